// SPDX-License-Identifier: Apache-2.0
#include "motor/stumble.h"

#include <cmath>

#include <gtest/gtest.h>

#include "base/angle.h"
namespace combwright::motor {
namespace {

// A disc turned by a constant torque against a fan, a turn in some 10 s.
Machine turning(Load load) {
  Machine machine;
  machine.spring.points = {{-1.0, 0.04, 0.0}, {9.0, 0.04, 0.0}};
  machine.full_turns = 8.0;
  machine.barrel_per_disc = 1.0;
  machine.governor_per_disc = 1.0;
  machine.governor = {.square_n_m_s2 = 0.1, .inertia_kg_m2 = 0.01};
  machine.load = std::move(load);
  return machine;
}

// Without any work the plucks don't disturb the turning.
TEST(Stumble, IsNoneWhereNothingBrakes) {
  Load none;
  none.pieces = {{}};
  const Machine machine = turning(none);
  const std::vector<PluckLoad> plucks{{.release_rad = 1.0}, {.release_rad = 2.0}};
  const double even = two_pi / std::sqrt(0.04 / 0.1);
  const auto stumble = worst_stumble(machine, 5, even, plucks);
  ASSERT_TRUE(stumble);
  EXPECT_NEAR(stumble->late_s, 0.0, 1e-9);
  EXPECT_NEAR(stumble->interval_s, even / two_pi, 1e-12);
}

// A constant brake from the first note to the second: the speed between them falls towards its new
// steady value as the books' tanh has it in distance, y = y1 + (y0 - y1) exp(-2 K x / J), and the
// time is the integral of 1 / sqrt(y), here by Simpson's rule.
TEST(Stumble, IsWhatABrakeBetweenTwoNotesTakes) {
  constexpr double brake = 0.01;
  Load load;
  load.pieces = {{}, {.begin_rad = 1.0, .wheel_n_m = brake}, {.begin_rad = 2.0}};
  const Machine machine = turning(load);
  const std::vector<PluckLoad> plucks{
      {.release_rad = 2.0}, {.release_rad = 1.0}, {.release_rad = 4.5}, {.release_rad = 6.0}};
  const double y0 = 0.04 / 0.1;
  const double y1 = 0.03 / 0.1;
  const auto time = [&](double x) {
    return 1.0 / std::sqrt(y1 + (y0 - y1) * std::exp(-2.0 * 0.1 / 0.01 * x));
  };
  constexpr int steps = 2000;
  double taken = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double a = static_cast<double>(i) / steps;
    const double h = 1.0 / steps;
    taken += h / 6.0 * (time(a) + 4.0 * time(a + 0.5 * h) + time(a + h));
  }
  const double even = two_pi / std::sqrt(y0);
  const auto stumble = worst_stumble(machine, 6, even, plucks);
  ASSERT_TRUE(stumble);
  EXPECT_EQ(stumble->release_rad, 2.0);
  EXPECT_EQ(stumble->before_rad, 1.0);
  EXPECT_NEAR(stumble->late_s, taken - even / two_pi, 1e-9);
}

TEST(Stumble, NeedsTwoNotes) {
  Load none;
  none.pieces = {{}};
  EXPECT_FALSE(worst_stumble(turning(none), 0, 10.0, {{.release_rad = 1.0}}));
}

// Friberg and Sundberg, JASA 98 (1995), from memory: 6 ms below 240 ms, 2.5 % beyond.
TEST(Stumble, IsHeardFromThePublishedThreshold) {
  EXPECT_DOUBLE_EQ(heard_s(0.1), 0.006);
  EXPECT_DOUBLE_EQ(heard_s(0.24), 0.006);
  EXPECT_DOUBLE_EQ(heard_s(1.0), 0.025);
}

}  // namespace
}  // namespace combwright::motor
