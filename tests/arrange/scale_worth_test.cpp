// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_worth.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include <gtest/gtest.h>

#include "arrange/scale_search.h"
#include "arrange/scale_tasks.h"
#include "arrange/search.h"
#include "arrange/solve.h"

namespace combwright::arrange {
namespace {

// Whether teeth of the interval can play the notes of the set: never more than `teeth` of them
// within less than an interval (interval graphs are perfect).
bool playable(const std::vector<double>& onset_s, unsigned set, double interval_s, int teeth) {
  for (std::size_t i = 0; i < onset_s.size(); ++i) {
    int together = 0;
    for (std::size_t k = 0; k < onset_s.size(); ++k) {
      const double after = onset_s[k] - onset_s[i];
      if ((set >> k & 1U) != 0 && after >= 0.0 && after < interval_s - 1e-9) ++together;
    }
    if (together > teeth) return false;
  }
  return true;
}

TEST(EarnedByMoreTeeth, IsTheBestOfAllSetsOfNotesThatTheTeethCanPlay) {
  std::mt19937 random(7);
  for (int round = 0; round < 200; ++round) {
    const std::size_t count = 1 + random() % 9;
    std::vector<double> onset(count);
    std::vector<double> weight(count);
    double time = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
      onset[i] = time += 0.05 * static_cast<double>(1 + random() % 4);
      weight[i] = 0.1 * static_cast<double>(1 + random() % 9);
    }
    const double interval = 0.05 * static_cast<double>(1 + random() % 8);
    const std::vector<double> added = earned_by_more_teeth(onset, weight, interval, 4);
    double ours = 0.0;
    for (int teeth = 1; teeth <= 4; ++teeth) {
      double best = 0.0;
      for (unsigned set = 0; set < 1U << count; ++set) {
        if (!playable(onset, set, interval, teeth)) continue;
        double sum = 0.0;
        for (std::size_t i = 0; i < count; ++i)
          if ((set >> i & 1U) != 0) sum += weight[i];
        best = std::max(best, sum);
      }
      if (static_cast<std::size_t>(teeth) <= added.size())
        ours += added[static_cast<std::size_t>(teeth) - 1];
      EXPECT_NEAR(ours, best, 1e-9) << "round " << round << ", " << teeth << " teeth";
    }
  }
}

TEST(EarnedByMoreTeeth, FallsWithEachTooth) {
  const std::vector<double> onset{0.0, 0.1, 0.2, 0.3, 0.4, 0.5};
  const std::vector<double> added =
      earned_by_more_teeth(onset, std::vector<double>(6, 1.0), 0.3, 9);
  // Every third note for each of three teeth.
  EXPECT_EQ(added, (std::vector<double>{2.0, 2.0, 2.0}));
}

TEST(TuneWorth, IsNeverMoreThanTheArrangersOptimumAndMostlyNearIt) {
  double worth = 0.0;
  double optimum = 0.0;
  for (unsigned seed = 0; seed < 60; ++seed) {
    const std::vector<ScoreNote> notes = RandomTunes(seed).next(24, 26);
    const std::vector<int> midi{60, 61, 62, 62, 64, 65, 67, 72, 74, 74, 79};
    std::vector<double> interval;
    for (std::size_t i = 0; i < midi.size(); ++i)
      interval.push_back(0.4 - 0.02 * static_cast<double>(i));
    Problem limits{.most_plucks = 1000, .pluck_window_s = 0.01, .latest_s = 100.0};
    for (std::size_t i = 0; i < midi.size(); ++i) limits.teeth.push_back({midi[i], interval[i]});
    double total = 0.0;
    for (const ScoreNote& note : notes) total += note.weight;
    for (const int transpose : {-5, 0, 3}) {
      const double most = solve(with_demands(limits, notes, transpose, 1.0)).bound / total;
      const double ours = TuneWorth(notes, 1.0).of_all(transpose, teeth_by_pitch(midi, interval));
      EXPECT_LE(ours, most + 1e-9) << "seed " << seed;
      worth += ours;
      optimum += most;
    }
  }
  // Moved notes and the choice of teeth are what it leaves out.
  EXPECT_GT(worth, 0.95 * optimum);
}

TEST(TuneWorth, GivesAllWhereEveryNoteHasItsToothAndTime) {
  const std::vector<ScoreNote> notes{{.onset_s = 0.0, .midi = 60, .weight = 1.0},
                                     {.onset_s = 0.5, .midi = 64, .weight = 0.5},
                                     {.onset_s = 1.0, .midi = 60, .weight = 0.5}};
  const TeethByPitch teeth = teeth_by_pitch({62, 66}, {0.4, 0.3});
  EXPECT_DOUBLE_EQ(TuneWorth(notes, 1.0).of_all(2, teeth), 1.0);
  // Twice as fast would still leave C its 0.4 s; three times would not.
  EXPECT_DOUBLE_EQ(TuneWorth(notes, 2.0).of_all(2, teeth), 1.0);
  EXPECT_DOUBLE_EQ(TuneWorth(notes, 3.0).of_all(2, teeth), 0.75);
}

TEST(TuneWorth, AnOctaveStandsInAtItsShare) {
  const std::vector<ScoreNote> notes{
      {.onset_s = 0.0, .midi = 60, .role = Role::melody, .weight = 1.0},
      {.onset_s = 1.0, .midi = 61, .role = Role::inner, .weight = 1.0}};
  const TeethByPitch teeth = teeth_by_pitch({72, 85}, {0.4, 0.3});
  // docs/arranging.md: an octave earns 0.3 for melody, else 0.6.
  EXPECT_DOUBLE_EQ(TuneWorth(notes, 1.0).of_all(0, teeth), 0.5 * (0.3 + 0.6));
}

}  // namespace
}  // namespace combwright::arrange
