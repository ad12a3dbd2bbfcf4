// SPDX-License-Identifier: Apache-2.0
#include "arrange/solve.h"

#include <gtest/gtest.h>

#include "arrange/random_problems.h"
#include "arrange/rules_check.h"

namespace combwright::arrange {
namespace {

TEST(Solve, EqualsTryingAllWhereOnlyTheTeethBind) {
  RandomProblems problems(1);
  for (int round = 0; round < 60; ++round) {
    const Problem p = problems.next(6, false, 100);
    const Solution s = solve(p);
    ASSERT_EQ(broken_rule(p, s.choices), "") << "round " << round;
    EXPECT_DOUBLE_EQ(s.earned, earned_by_rules(p, s.choices)) << "round " << round;
    EXPECT_DOUBLE_EQ(s.bound, s.earned) << "round " << round;
    // The grid may miss the one moment that fits, never find a better one.
    EXPECT_GE(s.earned, best_by_trying_all(p, 0.010) - 1e-9) << "round " << round;
  }
}

TEST(Solve, NeverEarnsMoreThanTryingAllCanFind) {
  // Intervals and onsets on the grid: then the grid holds the optimum.
  std::mt19937 random(2);
  const auto tick = [&](int low, int high) {
    return 0.010 * std::uniform_int_distribution<int>(low, high)(random);
  };
  for (int round = 0; round < 60; ++round) {
    Problem p{.teeth = {{60, tick(12, 40)}, {60, tick(12, 40)}, {72, tick(12, 40)}},
              .most_plucks = 100,
              .pluck_window_s = 0.05,
              .earliest_s = 0.5,
              .latest_s = 10.0};
    double time = 0.5;
    for (int i = 0; i < 5; ++i) {
      time += tick(1, 12);
      p.demands.push_back({.onset_s = time,
                           .midi = i % 3 == 0 ? 72 : 60,
                           .weight = tick(30, 120),
                           .melody = i % 2 == 0});
    }
    EXPECT_NEAR(solve(p).earned, best_by_trying_all(p, 0.010), 1e-9) << "round " << round;
  }
}

TEST(Solve, KeepsTheMotorAndTheSheetAndBoundsWhatTryingAllCanFind) {
  RandomProblems problems(3);
  double worst = 1.0;
  for (int round = 0; round < 40; ++round) {
    const Problem p = problems.next(6, true, 2);
    const Solution s = solve(p);
    ASSERT_EQ(broken_rule(p, s.choices), "") << "round " << round;
    const double best = best_by_trying_all(p, 0.010);
    EXPECT_GE(s.bound, best - 1e-9) << "round " << round;
    EXPECT_GE(s.bound, s.earned - 1e-9) << "round " << round;
    worst = std::min(worst, s.earned / best);
  }
  EXPECT_GT(worst, 0.80);
}

TEST(Solve, DropsTheLightestNoteOfAChordThatIsTooMuchForTheMotor) {
  Problem p{.most_plucks = 2, .pluck_window_s = 0.08, .earliest_s = 1.0, .latest_s = 9.0};
  for (const int midi : {60, 64, 67}) p.teeth.push_back({midi, 0.3});
  p.demands = {{2.0, 60, 0.6, false}, {2.0, 64, 0.35, false}, {2.0, 67, 1.0, true}};
  const Solution s = solve(p);
  EXPECT_EQ(s.choices[1].fate, Fate::dropped);
  EXPECT_NEAR(s.earned, 1.6, 1e-12);
  EXPECT_NEAR(s.bound, 1.6, 1e-3);
}

TEST(Solve, SpreadsAChordWhereTheWindowIsShorterThanTheMovesReach) {
  Problem p{.most_plucks = 2, .pluck_window_s = 0.05, .earliest_s = 1.0, .latest_s = 9.0};
  for (const int midi : {60, 64, 67}) p.teeth.push_back({midi, 0.3});
  p.demands = {{2.0, 60, 0.6, false}, {2.0, 64, 0.35, false}, {2.0, 67, 1.0, true}};
  const Solution s = solve(p);
  ASSERT_EQ(broken_rule(p, s.choices), "");
  EXPECT_NEAR(s.earned, 1.0 + 0.9 * (0.6 + 0.35), 1e-12);
}

TEST(Solve, SharesARepeatedNoteBetweenDuplicates) {
  Problem p{.teeth = {{60, 0.4}, {60, 0.4}},
            .most_plucks = 9,
            .pluck_window_s = 0.05,
            .earliest_s = 1.0,
            .latest_s = 9.0};
  for (int i = 0; i < 6; ++i) p.demands.push_back({1.0 + 0.2 * i, 60, 1.0, true});
  const Solution s = solve(p);
  EXPECT_DOUBLE_EQ(s.earned, 6.0);
  for (std::size_t i = 0; i + 1 < 6; ++i) EXPECT_NE(s.choices[i].tooth, s.choices[i + 1].tooth);
}

TEST(Solve, MovesANoteRatherThanDropIt) {
  const Problem p{.teeth = {{60, 0.25}},
                  .demands = {{1.0, 60, 1.0, true}, {1.23, 60, 1.0, true}},
                  .most_plucks = 9,
                  .pluck_window_s = 0.05,
                  .earliest_s = 1.0,
                  .latest_s = 9.0};
  const Solution s = solve(p);
  EXPECT_DOUBLE_EQ(s.earned, 1.9);
  EXPECT_EQ(s.choices[1].fate, Fate::moved);
  EXPECT_NEAR(s.choices[1].time_s, 1.25, 1e-12);
}

}  // namespace
}  // namespace combwright::arrange
