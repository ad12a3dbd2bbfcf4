// SPDX-License-Identifier: Apache-2.0
#include "arrange/share.h"

#include <gtest/gtest.h>

#include "arrange/rules_check.h"

namespace combwright::arrange {
namespace {

Problem two_duplicates() {
  Problem p{.teeth = {{60, 0.4}, {60, 0.3}, {64, 0.3}},
            .most_plucks = 9,
            .pluck_window_s = 0.08,
            .earliest_s = 0.0,
            .latest_s = 20.0};
  for (int i = 0; i < 6; ++i) p.demands.push_back({1.0 + i, 60, 1.0, true});
  return p;
}

std::vector<Choice> all_on_first_tooth(const Problem& p) {
  std::vector<Choice> choices;
  for (const Demand& d : p.demands) choices.push_back({Fate::kept, 0, d.onset_s});
  return choices;
}

TEST(ShareDuplicates, TheyTakeTurns) {
  const Problem p = two_duplicates();
  std::vector<Choice> choices = all_on_first_tooth(p);
  share_duplicates(p, choices);
  EXPECT_EQ(broken_rule(p, choices), "");
  for (std::size_t i = 0; i + 1 < choices.size(); ++i)
    EXPECT_NE(choices[i].tooth, choices[i + 1].tooth) << i;
}

TEST(ShareDuplicates, LeavesANoteAloneWhereTurnsWouldBreakARule) {
  Problem p = two_duplicates();
  p.neighbours = {{.shift_s = 0.0, .reach_s = 0.1}, {.shift_s = 0.0, .reach_s = 0.1}};
  std::vector<Choice> choices = all_on_first_tooth(p);
  p.demands.push_back({4.0, 64, 0.5, false});
  choices.push_back({Fate::kept, 2, 4.0});
  const std::vector<Choice> before = choices;
  share_duplicates(p, choices);
  EXPECT_EQ(broken_rule(p, choices), "");
  for (std::size_t i = 0; i < choices.size(); ++i) EXPECT_EQ(choices[i].tooth, before[i].tooth);
}

}  // namespace
}  // namespace combwright::arrange
