// SPDX-License-Identifier: Apache-2.0
#include "arrange/score.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace combwright::arrange {
namespace {

// Four parts in whole-bar chords, soprano first.
music::Tune chorale() {
  music::Tune tune;
  tune.title = "Chorale";
  tune.tempos = {{}};
  for (const char* name : {"soprano", "alto", "tenor", "bass"}) tune.parts.push_back({name, 0});
  const int chords[3][4] = {{72, 67, 64, 48}, {74, 67, 65, 43}, {72, 67, 64, 48}};
  for (int b = 0; b < 3; ++b) {
    tune.bars.push_back({.number = b + 1, .start_s = 2.0 * b, .start_quarter = 4.0 * b});
    for (int part = 3; part >= 0; --part)
      tune.notes.push_back({.onset_s = 2.0 * b,
                            .duration_s = 2.0,
                            .onset_quarter = 4.0 * b,
                            .duration_quarter = 4.0,
                            .midi = chords[b][part],
                            .part = part});
  }
  tune.length_s = 6.0;
  return tune;
}

TEST(Roles, SopranoIsMelodyAndBassIsBass) {
  const music::Tune tune = chorale();
  const std::vector<Role> role = roles(tune);
  for (std::size_t i = 0; i < role.size(); ++i) {
    const int part = tune.notes[i].part;
    const Role expected = part == 0 ? Role::melody : part == 3 ? Role::bass : Role::inner;
    EXPECT_EQ(role[i], expected) << i;
  }
}

TEST(Roles, OfAStrummedChordOnlyTheTopNoteIsMelody) {
  music::Tune tune{.parts = {{}}};
  for (int i = 0; i < 6; ++i)
    tune.notes.push_back({.onset_s = 1.0 + 0.02 * i, .duration_s = 0.8, .midi = 40 + 4 * i});
  const std::vector<Role> found = roles(tune);
  EXPECT_EQ(found.front(), Role::bass);
  EXPECT_EQ(found.back(), Role::melody);
  EXPECT_EQ(std::count(found.begin(), found.end(), Role::melody), 1);
}

TEST(Roles, AHeldMelodyKeepsItsRoleOverALaterLowerNote) {
  music::Tune tune = chorale();
  tune.notes.push_back(
      {.onset_s = 4.5, .duration_s = 0.5, .onset_quarter = 9.0, .midi = 65, .part = 1});
  EXPECT_EQ(roles(tune).back(), Role::inner);
}

TEST(Score, CountsAPitchDoubledAtOneOnsetOnce) {
  music::Tune tune = chorale();
  tune.parts.push_back({"violin", 40});
  for (int b = 0; b < 3; ++b)
    tune.notes.insert(tune.notes.begin() + b * 5 + 4, music::Note{.onset_s = 2.0 * b,
                                                                  .duration_s = 2.0,
                                                                  .onset_quarter = 4.0 * b,
                                                                  .duration_quarter = 4.0,
                                                                  .midi = b == 1 ? 74 : 72,
                                                                  .part = 4});
  EXPECT_EQ(score(tune).size(), 12U);
}

TEST(Score, AMelodyNoteOutweighsAnyBassNoteAndABassNoteAnyInnerOne) {
  music::Tune tune = chorale();
  double least_melody = 9.0, least_bass = 9.0, most_bass = 0.0, most_inner = 0.0;
  for (const double loudness : {0.0, 1.0})
    for (const bool accent : {false, true}) {
      for (music::Note& n : tune.notes) {
        n.loudness = n.part % 2 == 0 ? loudness : 1.0 - loudness;
        n.accent = accent == (n.part > 1);
        n.duration_quarter = n.part % 2 == 0 ? 0.01 : 16.0;
      }
      for (const ScoreNote& n : score(tune)) {
        if (n.role == Role::melody) least_melody = std::min(least_melody, n.weight);
        if (n.role == Role::bass) {
          least_bass = std::min(least_bass, n.weight);
          most_bass = std::max(most_bass, n.weight);
        }
        if (n.role == Role::inner) most_inner = std::max(most_inner, n.weight);
      }
    }
  EXPECT_GT(least_melody, most_bass);
  EXPECT_GT(least_bass, most_inner);
}

TEST(Score, TellsBarAndBeatAsPlayed) {
  music::Tune tune = chorale();
  tune.notes.push_back({.onset_s = 5.0, .onset_quarter = 10.0, .midi = 60, .part = 1});
  const ScoreNote last = score(tune).back();
  EXPECT_EQ(last.bar, 3);
  EXPECT_DOUBLE_EQ(last.beat, 3.0);
}

}  // namespace
}  // namespace combwright::arrange
