// SPDX-License-Identifier: Apache-2.0
#include "app/report.h"

#include <gtest/gtest.h>

namespace combwright::app {
namespace {

TEST(Report, NumbersStandRightAndTextLeft) {
  Table table({"Track", "Note"});
  table.add({"9", "C4"});
  table.add({"10", "F#5"});
  EXPECT_EQ(table.text(), "Track  Note\n    9  C4\n   10  F#5\n");
}

TEST(Report, LettersOutsideAsciiTakeOnePlace) {
  Table table({"Name", "N"});
  table.add({"Für", "x"});
  table.add({"Fuer", "y"});
  EXPECT_EQ(table.text(), "Name  N\nFür   x\nFuer  y\n");
}

TEST(Report, FaultsComeFirst) {
  const Findings findings = {{Level::note, "bar 1", "kept", ""},
                             {Level::fault, "track 3", "too close", "move it"}};
  EXPECT_EQ(findings_text(findings), "\nfault: track 3: too close; move it\nnote: bar 1: kept\n");
}

TEST(Report, NoFindingsMakeNoLine) {
  EXPECT_EQ(findings_text({}), "");
}

TEST(Report, GroupsOfATableStandApartUnderTheirWords) {
  Table table({"Key", "Value"});
  table.begin_group();
  table.add({"a", "1"});
  table.begin_group("More");
  table.add({"b", "22"});
  table.begin_group();
  table.add({"c", "3"});
  EXPECT_EQ(table.text(), "Key  Value\na        1\n\nMore\nb       22\n\nc        3\n");
}

}  // namespace
}  // namespace combwright::app
