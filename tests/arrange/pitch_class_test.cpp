// SPDX-License-Identifier: Apache-2.0
#include <random>

#include <gtest/gtest.h>

#include "arrange/class_search.h"

namespace combwright::arrange {
namespace {

Problem busy_class(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> step(0.03, 0.12);
  std::uniform_real_distribution<double> weight(0.3, 1.2);
  Problem p{.teeth = {{48, 0.5}, {60, 0.35}, {60, 0.33}, {72, 0.2}, {84, 0.15}},
            .most_plucks = 100,
            .pluck_window_s = 0.05,
            .earliest_s = 0.5,
            .latest_s = 100.0};
  double time = 0.5;
  for (int i = 0; i < 200; ++i) {
    time += step(random);
    p.demands.push_back({time, 48 + 12 * (i * 7 % 4), weight(random), i % 3 == 0});
  }
  return p;
}

TEST(SolveClass, GivesAValidBoundWhenStatesAreCut) {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const Problem p = busy_class(seed);
    const PitchClass c = pitch_classes(p)[0];
    const ClassSolution full = solve_class(c, {.price_rounds = 100, .states = 100000});
    ASSERT_NEAR(full.bound, full.earned, 1e-6);
    const ClassSolution cut = solve_class(c, {.quick_states = 1, .states = 1});
    EXPECT_LE(cut.earned, full.earned + 1e-9);
    EXPECT_GE(cut.bound, full.earned - 1e-9);
  }
}

TEST(PitchClasses, HoldEveryToothAndDemandOnce) {
  const Problem p = busy_class(1);
  std::size_t teeth = 0;
  std::size_t notes = 0;
  for (const PitchClass& c : pitch_classes(p)) {
    teeth += c.teeth.size();
    notes += c.notes.size();
  }
  EXPECT_EQ(teeth, p.teeth.size());
  EXPECT_EQ(notes, p.demands.size());
}

}  // namespace
}  // namespace combwright::arrange
