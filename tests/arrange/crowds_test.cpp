// SPDX-License-Identifier: Apache-2.0
#include "arrange/crowds.h"

#include <cmath>

#include <gtest/gtest.h>

#include "arrange/crowd_search.h"
#include "arrange/random_problems.h"
#include "arrange/rules_check.h"
#include "arrange/solve.h"

namespace combwright::arrange {
namespace {

constexpr std::size_t plenty = 10'000'000;

TEST(Crowds, ChosenAnewFromNothingAFewNotesEarnWhatTryingAllFinds) {
  RandomProblems problems(11);
  for (int round = 0; round < 40; ++round) {
    const Problem p = problems.next(5, false, 2);
    std::vector<Choice> choices(p.demands.size());
    improve_crowds(p, choices, plenty);
    ASSERT_EQ(broken_rule(p, choices), "") << "round " << round;
    EXPECT_LE(earned_by_rules(p, choices), solve(p).bound + 1e-9) << "round " << round;
    // Notes further apart than a crowd reaches are chosen one crowd after another.
    const bool one_crowd = p.demands.back().onset_s - p.demands.front().onset_s < 0.14;
    if (one_crowd) {
      EXPECT_GE(earned_by_rules(p, choices), best_by_trying_all(p, 0.01) - 1e-9)
          << "round " << round;
    }
  }
}

TEST(Crowds, KeepTheSheetBetweenNeighboursAndAllOtherPlucks) {
  RandomProblems problems(12);
  for (int round = 0; round < 200; ++round) {
    const Problem p = problems.next(24, true, 3);
    std::vector<Choice> choices(p.demands.size());
    improve_crowds(p, choices, plenty);
    ASSERT_EQ(broken_rule(p, choices), "") << "round " << round;
  }
}

TEST(Crowds, SpreadARolledChordThatTheMotorCannotTakeAtOnce) {
  Problem p;
  p.earliest_s = 0.0;
  p.latest_s = 10.0;
  p.most_plucks = 2;
  p.pluck_window_s = 0.05;
  for (int k = 0; k < 4; ++k) {
    p.teeth.push_back({.midi = 60 + k, .interval_s = 0.3});
    p.demands.push_back({.onset_s = 1.0, .midi = 60 + k, .weight = 1.0});
  }
  std::vector<Choice> choices(4);
  improve_crowds(p, choices, plenty);
  EXPECT_EQ(broken_rule(p, choices), "");
  // Two 30 ms early and two 30 ms late; any note left at its onset would cost two others.
  EXPECT_NEAR(earned_by_rules(p, choices), 4 * 0.9, 1e-12);
}

TEST(Crowds, KeepTheMotorsLimitWhereNotesLieExactlyOneWindowApart) {
  RandomProblems problems(14);
  for (int round = 0; round < 100; ++round) {
    Problem p = problems.next(24, false, 3);
    p.pluck_window_s = 0.5;
    for (Demand& demand : p.demands) demand.onset_s = std::round(demand.onset_s * 8.0) / 8.0;
    std::vector<Choice> choices(p.demands.size());
    improve_crowds(p, choices, plenty);
    ASSERT_EQ(broken_rule(p, choices), "") << "round " << round;
    ASSERT_EQ(broken_rule(p, solve(p).choices), "") << "round " << round;
  }
}

TEST(CrowdSearch, FindsRoomBetweenOtherPlucksThatLieBeforeTheCrowd) {
  Problem p{.teeth = {{60, 0.2}}, .most_plucks = 4, .pluck_window_s = 0.5};
  const Crowd crowd{
      .notes = 1, .uses = {{0, 0, 1.0, 1.0, 1.0}}, .others_s = {0.45, 0.46, 0.47, 0.48}};
  EXPECT_EQ(search_crowd(p, crowd, 0.0, plenty).earned, 1.0);
}

TEST(CrowdSearch, LooksAtNoMorePartialAnswersThanItMay) {
  Problem p{.teeth = {{60, 0.2}, {62, 0.2}}, .most_plucks = 4, .pluck_window_s = 0.5};
  const Crowd crowd{.notes = 2, .uses = {{0, 0, 1.0, 1.0, 1.0}, {1, 1, 1.0, 1.0, 1.0}}};
  EXPECT_EQ(search_crowd(p, crowd, 0.0, 1).nodes, 1U);
  EXPECT_EQ(search_crowd(p, crowd, 0.0, plenty).earned, 2.0);
}

}  // namespace
}  // namespace combwright::arrange
