// SPDX-License-Identifier: Apache-2.0
#include "base/finding.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(Finding, only_a_fault_is_a_fault) {
  const Findings harmless = {{.level = Level::note}, {.level = Level::warning}};
  EXPECT_FALSE(has_fault(harmless));
  EXPECT_FALSE(has_fault({}));
  EXPECT_TRUE(has_fault({{.level = Level::note}, {.level = Level::fault}}));
}

TEST(Finding, levels_have_the_words_of_the_interface) {
  EXPECT_EQ(to_text(Level::fault), "fault");
  EXPECT_EQ(to_text(Level::warning), "warning");
  EXPECT_EQ(to_text(Level::note), "note");
}

TEST(Finding, says_where_what_and_remedy_in_one_line_without_what_is_empty) {
  EXPECT_EQ(to_text(Finding{Level::note, "bar 1", "late", "move it"}), "bar 1: late; move it");
  EXPECT_EQ(to_text(Finding{Level::note, "", "late", ""}), "late");
}

TEST(Finding, merged_findings_stand_once_and_in_order) {
  const Findings first = {{Level::warning, "a", "one", "do this"}, {Level::note, "b", "two", ""}};
  const Findings second = {{Level::note, "b", "two", "told otherwise"},
                           {Level::fault, "b", "two", ""},
                           {Level::note, "c", "two", ""}};
  const Findings all = merged({&first, &second});
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[0].remedy, "do this");
  EXPECT_EQ(all[1].remedy, "");
  EXPECT_EQ(all[2].level, Level::fault);
  EXPECT_EQ(all[3].where, "c");
}

TEST(Finding, a_flood_of_findings_is_cut_and_counted_without_losing_its_fault) {
  Findings flood;
  for (std::size_t i = 0; i < most_findings + 5; ++i)
    flood.push_back({Level::note, "", std::to_string(i), ""});
  flood.push_back({Level::fault, "", "late", ""});
  const Findings all = merged({&flood, &flood});
  ASSERT_EQ(all.size(), most_findings + 1);
  EXPECT_EQ(all.back().what, "6 more findings are left out");
  EXPECT_TRUE(has_fault(all));
}

}  // namespace
}  // namespace combwright
