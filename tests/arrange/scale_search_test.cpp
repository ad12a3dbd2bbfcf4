// SPDX-License-Identifier: Apache-2.0
#include "arrange/scale_search.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "arrange/scale_tasks.h"

namespace combwright::arrange {
namespace {

ScaleTask small(unsigned seed, int tunes) {
  ScaleTask task{.interval_s = {0.35, 0.3, 0.25, 0.2},
                 .lowest_midi = 60,
                 .highest_midi = 74,
                 .transpositions = {-3, -2, -1, 0, 1, 2, 3}};
  RandomTunes random(seed);
  for (int j = 0; j < tunes; ++j) task.tunes.emplace_back(random.next(16, 10), 1.0);
  return task;
}

TEST(ChooseScale, ComesNearTheBestOfAllScales) {
  double ours = 0.0;
  double best_of_all = 0.0;
  for (unsigned seed = 0; seed < 20; ++seed) {
    const ScaleTask task = small(seed, 3);
    double best = 0.0;
    for (const std::vector<int>& midi : all_scales(4, 60, 74))
      best = std::max(best, worth_of_scale(task, midi, 1).worth);
    const ScaleChoice choice = choose_scale(task, {60, 64, 67, 72}, 1);
    EXPECT_LE(choice.worth, best + 1e-9) << "seed " << seed;
    EXPECT_GE(choice.worth, 0.95 * best) << "seed " << seed;
    ours += choice.worth;
    best_of_all += best;
  }
  RecordProperty("share_of_best", std::to_string(ours / best_of_all));
  EXPECT_GE(ours, 0.99 * best_of_all);
}

TEST(ChooseScale, SaysWhatItsScaleIsWorth) {
  const ScaleTask task = small(3, 4);
  const ScaleChoice choice = choose_scale(task, {60, 64, 67, 72}, 1);
  const ScaleChoice again = worth_of_scale(task, choice.midi, 1);
  EXPECT_NEAR(choice.worth, again.worth, 1e-9);
  EXPECT_EQ(choice.transpositions, again.transpositions);
}

TEST(ChooseScale, GivesRisingNotesWithinTheRange) {
  const ScaleChoice choice = choose_scale(small(4, 5), {60, 60, 60, 60}, 1);
  EXPECT_EQ(choice.midi.size(), 4U);
  EXPECT_TRUE(std::is_sorted(choice.midi.begin(), choice.midi.end()));
  EXPECT_GE(choice.midi.front(), 60);
  EXPECT_LE(choice.midi.back(), 74);
}

TEST(ChooseScale, IsTheSameForAnyNumberOfThreads) {
  const ScaleTask task = small(9, 6);
  const ScaleChoice one = choose_scale(task, {60, 64, 67, 72}, 1);
  for (const unsigned threads : {2U, 5U}) {
    const ScaleChoice other = choose_scale(task, {60, 64, 67, 72}, threads);
    EXPECT_EQ(one.midi, other.midi);
    EXPECT_EQ(one.transpositions, other.transpositions);
    EXPECT_EQ(one.worth, other.worth);
  }
}

TEST(ChooseScale, EndsEarlyIfItMayNotLookAtMuchAndIsNoWorseThanThePresentScale) {
  const ScaleTask task = small(2, 6);
  const std::vector<int> present{60, 62, 65, 69};
  EXPECT_GE(choose_scale(task, present, 1, 10).worth,
            worth_of_scale(task, present, 1).worth - 1e-9);
}

TEST(ChooseScale, DoublesANoteThatIsRepeatedSoon) {
  // C over and over, twice as fast as a tooth can follow, and now and then E, F and G.
  std::vector<ScoreNote> notes;
  for (int i = 0; i < 40; ++i) {
    notes.push_back({.onset_s = 0.2 * i, .midi = 60, .weight = 1.0});
    if (i % 13 == 0) notes.push_back({.onset_s = 0.2 * i, .midi = 64 + i / 13, .weight = 0.5});
  }
  ScaleTask task{.interval_s = {0.35, 0.35, 0.3, 0.3},
                 .lowest_midi = 60,
                 .highest_midi = 67,
                 .transpositions = {0}};
  task.tunes.emplace_back(notes, 1.0);
  const ScaleChoice choice = choose_scale(task, {60, 64, 65, 66}, 1);
  EXPECT_EQ(std::count(choice.midi.begin(), choice.midi.end(), 60), 2);
}

TEST(GrowScale, EachToothAddsWhatEarnsMost) {
  ScaleTask task = small(6, 3);
  task.interval_s.push_back(0.2);
  const std::vector<int> midi{60, 63, 66, 70};
  const std::vector<ScaleChoice> grown = grow_scale(task, midi);
  ASSERT_EQ(grown.size(), 1U);
  double best = 0.0;
  for (int m = 60; m <= 74; ++m) {
    std::vector<int> more = midi;
    more.insert(std::upper_bound(more.begin(), more.end(), m), m);
    best = std::max(best, worth_of_scale(task, more, 1).worth);
  }
  // The tooth is chosen with the other teeth at their places, which it moves by one.
  EXPECT_GE(worth_of_scale(task, grown.front().midi, 1).worth, 0.98 * best);
}

}  // namespace
}  // namespace combwright::arrange
