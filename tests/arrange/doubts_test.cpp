// SPDX-License-Identifier: Apache-2.0
#include "arrange/doubts.h"

#include <gtest/gtest.h>

namespace combwright::arrange {
namespace {

Arrangement arranged_notes() {
  Arrangement a{.title = "two notes"};
  a.tracks = {{.track = 1, .midi = 60}, {.track = 2, .midi = 84}};
  a.notes = {{.index = 0,
              .onset_s = 1.0,
              .duration_s = 1.0,
              .midi = 72,
              .weight = 1.0,
              .role = Role::melody,
              .bar = 1,
              .beat = 1.0},
             {.index = 1,
              .onset_s = 1.5,
              .duration_s = 0.5,
              .midi = 48,
              .weight = 0.6,
              .role = Role::bass,
              .bar = 1,
              .beat = 2.0}};
  a.fidelity = 1.0;
  return a;
}

TEST(Doubts, ALostMelodyNoteWithoutAToothNamesTheToothThatWouldPlayIt) {
  const Findings findings = findings_of(arranged_notes(), {});
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "bar 1 beat 1");
  EXPECT_EQ(findings[0].at.notes, std::vector<int>{0});
  EXPECT_EQ(findings[0].remedy, "a tooth C5 would play it; try other bars or another key");
}

TEST(Doubts, ALostMelodyNoteWithAToothAsksForDuplicates) {
  Arrangement a = arranged_notes();
  a.tracks.push_back({.track = 3, .midi = 72});
  EXPECT_EQ(findings_of(a, {}).at(0).remedy, "try other bars or a box with more duplicates");
}

TEST(Doubts, ABassNoteAboveAMelodyNoteThatStillSoundsIsTold) {
  Arrangement a = arranged_notes();
  a.notes[0].fate = Fate::kept;
  a.notes[1].fate = Fate::octave;
  a.tracks.push_back({.track = 3, .midi = 72});
  a.plucks = {{.time_s = 1.0, .track = 3, .note = 0}, {.time_s = 1.5, .track = 2, .note = 1}};
  const Findings findings = findings_of(a, {});
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "bar 1 beat 2");
  EXPECT_EQ(findings[0].at.notes, std::vector<int>{1});
  EXPECT_EQ(findings[0].what,
            "1 note of bass or inner parts sounds above the melody for want of a tooth");
  a.plucks[1].track = 1;
  EXPECT_TRUE(findings_of(a, {}).empty());
}

}  // namespace
}  // namespace combwright::arrange
