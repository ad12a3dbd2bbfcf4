// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_bound.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "arrange/scale_search.h"
#include "arrange/scale_tasks.h"
#include "arrange/search.h"
#include "arrange/solve.h"

namespace combwright::arrange {
namespace {

struct Small {
  std::vector<std::vector<ScoreNote>> tunes;
  ScaleTask task;
};

Small small(unsigned seed, bool bass_outer, int highest) {
  Small s;
  RandomTunes random(seed);
  for (int j = 0; j < 3; ++j) s.tunes.push_back(random.next(12, 7));
  for (const auto& notes : s.tunes) s.task.tunes.emplace_back(notes, 1.0);
  s.task.interval_s = {0.35, 0.25, 0.15};
  if (bass_outer) std::reverse(s.task.interval_s.begin(), s.task.interval_s.end());
  s.task.lowest_midi = 60;
  s.task.highest_midi = highest;
  s.task.transpositions = {-2, 0, 1};
  return s;
}

// What the arranger's solver earns of the weight, which is its optimum on problems so small.
double earned(const Small& s, std::size_t tune, const std::vector<int>& midi, int transpose) {
  Problem limits{.most_plucks = 1000, .pluck_window_s = 0.01, .latest_s = 100.0};
  for (std::size_t i = 0; i < midi.size(); ++i)
    limits.teeth.push_back({midi[i], s.task.interval_s[i]});
  double total = 0.0;
  for (const ScoreNote& note : s.tunes[tune]) total += note.weight;
  return solve(with_demands(limits, s.tunes[tune], transpose, 1.0)).earned / total;
}

void hold_against_all_scales(const Small& s) {
  double most = 0.0;
  double most_in_keys = 0.0;
  std::vector<double> most_of_tune(s.tunes.size(), 0.0);
  const std::vector<int> keys{0, 1, -2};
  for (const std::vector<int>& midi :
       all_scales(static_cast<int>(s.task.interval_s.size()), 60, s.task.highest_midi)) {
    double sum = 0.0;
    double in_keys = 0.0;
    for (std::size_t j = 0; j < s.tunes.size(); ++j) {
      double best = 0.0;
      for (const int t : s.task.transpositions) best = std::max(best, earned(s, j, midi, t));
      sum += best / 3.0;
      in_keys += earned(s, j, midi, keys[j]) / 3.0;
      most_of_tune[j] = std::max(most_of_tune[j], best);
    }
    most = std::max(most, sum);
    most_in_keys = std::max(most_in_keys, in_keys);
  }
  const ScaleBounds bounds = scale_bounds(s.task, keys, most, 60, 1);
  EXPECT_GE(bounds.any_keys, most - 1e-9);
  EXPECT_GE(bounds.in_keys, most_in_keys - 1e-9);
  for (std::size_t j = 0; j < s.tunes.size(); ++j)
    EXPECT_GE(bounds.of_tune[j], most_of_tune[j] - 1e-9);
}

TEST(ScaleBounds, NoScaleOfAllEarnsMore) {
  for (unsigned seed = 0; seed < 12; ++seed) {
    SCOPED_TRACE(seed);
    hold_against_all_scales(small(seed, false, 66));
    hold_against_all_scales(small(seed, true, 66));
  }
}

TEST(ScaleBounds, NorWhereOctavesAreWithinTheRange) {
  for (unsigned seed = 20; seed < 23; ++seed) {
    SCOPED_TRACE(seed);
    hold_against_all_scales(small(seed, false, 74));
  }
}

TEST(ScaleBounds, OfGivenKeysIsExactWhereNothingIsRepeatedSoon) {
  // Three notes a second apart in a range without octaves: two teeth take the two heaviest.
  const std::vector<ScoreNote> notes{{.onset_s = 0.0, .midi = 60, .weight = 0.5},
                                     {.onset_s = 1.0, .midi = 62, .weight = 0.3},
                                     {.onset_s = 2.0, .midi = 64, .weight = 0.2}};
  ScaleTask task{
      .interval_s = {0.3, 0.2}, .lowest_midi = 60, .highest_midi = 66, .transpositions = {0}};
  task.tunes.emplace_back(notes, 1.0);
  const ScaleBounds bounds = scale_bounds(task, {0}, 0.8, 60, 1);
  EXPECT_NEAR(bounds.in_keys, 0.8, 1e-12);
  EXPECT_NEAR(bounds.of_tune.front(), 0.8, 1e-12);
}

TEST(ScaleBounds, SeeThatAToothInTheBassIsSlow) {
  // One note over and over, too fast for the inner track even when moved, not for the outer one.
  std::vector<ScoreNote> notes;
  for (int i = 0; i < 20; ++i) notes.push_back({.onset_s = 0.2 * i, .midi = 60, .weight = 1.0});
  ScaleTask task{.interval_s = {0.5}, .lowest_midi = 60, .highest_midi = 66, .transpositions = {0}};
  task.tunes.emplace_back(notes, 1.0);
  EXPECT_LE(scale_bounds(task, {0}, 0.3, 10, 1).in_keys, 0.5);
  task.interval_s = {0.2};
  EXPECT_NEAR(scale_bounds(task, {0}, 0.3, 10, 1).in_keys, 1.0, 1e-12);
}

TEST(ScaleBounds, AreTheSameForAnyNumberOfThreads) {
  const Small s = small(5, false, 80);
  const ScaleBounds one = scale_bounds(s.task, {0, 0, 0}, 0.3, 40, 1);
  const ScaleBounds three = scale_bounds(s.task, {0, 0, 0}, 0.3, 40, 3);
  EXPECT_EQ(one.any_keys, three.any_keys);
  EXPECT_EQ(one.in_keys, three.in_keys);
  EXPECT_EQ(one.of_tune, three.of_tune);
}

}  // namespace
}  // namespace combwright::arrange
