// SPDX-License-Identifier: Apache-2.0
#include "arrange/crowds.h"

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

TEST(CrowdSearch, SaysThatItIsNotProvenWhereItHadToStop) {
  RandomProblems problems(13);
  const Problem p = problems.next(6, false, 2);
  Crowd crowd{.notes = 2};
  for (int note = 0; note < 2; ++note)
    for (int tooth = 0; tooth < 2; ++tooth) crowd.uses.push_back({note, tooth, 1.0, 1.0, 1.02});
  EXPECT_TRUE(search_crowd(p, crowd, 0.0, plenty).proven);
  EXPECT_FALSE(search_crowd(p, crowd, 0.0, 0).proven);
}

}  // namespace
}  // namespace combwright::arrange
