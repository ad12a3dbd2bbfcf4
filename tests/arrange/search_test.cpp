// SPDX-License-Identifier: Apache-2.0
#include "arrange/search.h"

#include <cmath>
#include <cstdlib>
#include <random>

#include <gtest/gtest.h>

#include "arrange/rules.h"
#include "arrange/rules_check.h"
#include "arrange/solve.h"

namespace combwright::arrange {
namespace {

Problem small_box() {
  Problem limits{.most_plucks = 2, .pluck_window_s = 0.08, .earliest_s = 0.5, .latest_s = 9.5};
  for (const int midi : {60, 62, 64, 65, 67, 67, 69, 71, 72}) limits.teeth.push_back({midi, 0.3});
  return limits;
}

std::vector<ScoreNote> random_tune(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_int_distribution<int> pitch(55, 70);
  std::uniform_real_distribution<double> weight(0.3, 1.2);
  std::vector<ScoreNote> notes;
  for (int i = 0; i < 24; ++i)
    notes.push_back({.onset_s = 0.15 * i, .midi = pitch(random), .weight = weight(random)});
  return notes;
}

double merit_of(double fidelity, int transpose, double tempo) {
  return fidelity - worth_of_semitone * std::abs(transpose) -
         worth_of_tempo_percent * 100.0 * std::abs(std::log(tempo));
}

TEST(Search, FindsWhatSolvingEveryTranspositionAndTempoFinds) {
  const SearchSpace space{.transpositions = {-7, -5, -3, -2, 0, 2, 3, 5, 7},
                          .tempo_factors = {0.9, 1.0, 1.1}};
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const std::vector<ScoreNote> notes = random_tune(seed);
    double total = 0.0;
    for (const ScoreNote& note : notes) total += note.weight;
    double best = -1.0;
    double best_bound = -1.0;
    for (const int transpose : space.transpositions) {
      for (const double tempo : space.tempo_factors) {
        const Solution s = solve(with_demands(small_box(), notes, transpose, tempo), quick_effort);
        best = std::max(best, merit_of(s.earned / total, transpose, tempo));
        best_bound = std::max(best_bound, merit_of(s.bound / total, transpose, tempo));
      }
    }
    const SearchResult found = search(small_box(), notes, space);
    EXPECT_FALSE(found.stopped);
    EXPECT_EQ(broken_rule(found.problem, found.solution.choices), "") << "seed " << seed;
    const double merit =
        merit_of(found.solution.earned / total, found.transpose_semitones, found.tempo_factor);
    EXPECT_GE(merit, best - 1e-9) << "seed " << seed;
    EXPECT_LE(merit, best_bound + 1e-9) << "seed " << seed;
    EXPECT_EQ(found.trials.size(), space.transpositions.size() * space.tempo_factors.size());
  }
}

TEST(Search, StaysInTheWrittenKeyAndTempoWhereAllFits) {
  std::vector<ScoreNote> notes;
  for (int i = 0; i < 8; ++i) notes.push_back({.onset_s = 0.5 * i, .midi = 60, .weight = 1.0});
  const SearchResult found = search(
      small_box(), notes, {.transpositions = {-12, 0, 12}, .tempo_factors = {0.9, 1.0, 1.1}});
  EXPECT_EQ(found.transpose_semitones, 0);
  EXPECT_EQ(found.tempo_factor, 1.0);
  EXPECT_EQ(found.solution.earned, 8.0);
}

}  // namespace
}  // namespace combwright::arrange
