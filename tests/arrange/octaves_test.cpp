// SPDX-License-Identifier: Apache-2.0
#include "arrange/octaves.h"

#include <gtest/gtest.h>

#include "arrange/reasons.h"
#include "arrange/rules_check.h"

namespace combwright::arrange {
namespace {

// A C3 of the bass without a tooth, with teeth one and two octaves above it, and a melody.
Problem bass_without_tooth(int melody) {
  Problem p{.teeth = {{60, 0.4}, {72, 0.3}, {melody, 0.2}},
            .most_plucks = 9,
            .pluck_window_s = 0.08,
            .earliest_s = 0.0,
            .latest_s = 20.0};
  p.demands = {{1.0, 48, 0.6, false}, {1.0, melody, 1.0, true}};
  return p;
}

TEST(Octaves, TheNearerOneIsTakenWhereBothAreFree) {
  const Problem p = bass_without_tooth(76);
  std::vector<Choice> choices{{Fate::octave, 1, 1.0}, {Fate::kept, 2, 1.0}};
  prefer_near_octaves(p, choices);
  EXPECT_EQ(choices[0].tooth, 0);
  EXPECT_EQ(broken_rule(p, choices), "");
}

TEST(Octaves, ATakenToothIsLeftToItsOwnNote) {
  Problem p = bass_without_tooth(76);
  p.demands.push_back({1.2, 60, 1.0, true});
  std::vector<Choice> choices{{Fate::octave, 1, 1.0}, {Fate::kept, 2, 1.0}, {Fate::kept, 0, 1.2}};
  prefer_near_octaves(p, choices);
  EXPECT_EQ(choices[0].tooth, 1);
}

TEST(Octaves, OneBelowAMelodyThatRingsOnIsBetterThanANearerOneAboveIt) {
  Problem p{.teeth = {{36, 0.4}, {67, 0.3}, {72, 0.2}},
            .most_plucks = 9,
            .pluck_window_s = 0.08,
            .earliest_s = 0.0,
            .latest_s = 20.0};
  p.demands = {{1.0, 67, 1.0, true}, {1.5, 60, 0.6, false}};
  std::vector<Choice> choices{{Fate::kept, 1, 1.0}, {Fate::octave, 2, 1.5}};
  prefer_near_octaves(p, choices);
  EXPECT_EQ(choices[1].tooth, 0);
}

TEST(Reasons, NameBothPitchesOfATransposedNote) {
  const Problem p = bass_without_tooth(76);
  const std::vector<Choice> choices{{Fate::octave, 0, 1.0}, {Fate::kept, 2, 1.0}};
  EXPECT_EQ(reasons(p, choices, 2)[0], "no tooth for C3 (written Bb2); played as C4");
  EXPECT_EQ(reasons(p, choices, 0)[0], "no tooth for C3; played as C4");
  EXPECT_EQ(reasons(p, choices, 0)[1], "");
}

TEST(Reasons, SayWhatKeepsAToothAndThatItsOctavesAreBusyToo) {
  Problem p = bass_without_tooth(76);
  p.demands = {{1.0, 60, 1.0, true}, {1.2, 60, 0.3, false}};
  const std::vector<Choice> choices{{Fate::kept, 0, 1.0}, {}};
  EXPECT_EQ(reasons(p, choices, 0)[1],
            "C4 on track 1 is plucked 0.20 s away and needs 0.40 s; its octaves serve other notes");
}

}  // namespace
}  // namespace combwright::arrange
