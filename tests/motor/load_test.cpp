// SPDX-License-Identifier: Apache-2.0
#include "motor/load.h"

#include <cmath>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

namespace combwright::motor {
namespace {

constexpr double turn_rad = 2.0 * std::numbers::pi;

box::Box loaded_box() {
  box::Box box;
  box.disc = {.diameter_m = 0.2, .thickness_m = 0.0005, .centre_hole_diameter_m = 0.01};
  box.star_wheel = {
      .points = 8, .tip_radius_m = 0.003, .axis_below_disc_m = 0.004, .tooth_overlap_m = 0.0001};
  box.hold_down = {.roller_radius_m = {0.04, 0.09}};
  box.friction = {.roller_force_n = 2.0, .roller = 0.05, .spindle = 0.1};
  return box;
}

TEST(Load, SteadyTorqueByHand) {
  const Load made = load(loaded_box(), {});
  const double mass = 7850.0 * std::numbers::pi * 0.01 * 0.0005;
  EXPECT_NEAR(made.steady_n_m, 0.1 * mass * 9.80665 * 0.005 + 0.05 * 2.0 * (0.04 + 0.09), 1e-12);
  EXPECT_NEAR(made.inertia_kg_m2, 0.5 * mass * 0.01, 1e-15);
  EXPECT_EQ(made.pieces.size(), 1U);
}

double work_of(const Load& load, bool pluck) {
  double sum = 0.0;
  for (std::size_t i = 0; i < load.pieces.size(); ++i) {
    const LoadPiece& piece = load.pieces[i];
    const double end = i + 1 < load.pieces.size() ? load.pieces[i + 1].begin_rad : turn_rad;
    const double length = end - piece.begin_rad;
    EXPECT_GT(length, 0.0);
    sum += pluck ? length * (piece.pluck_n_m + 0.5 * length * piece.pluck_slope_n_m)
                 : length * piece.wheel_n_m;
  }
  return sum;
}

// Whatever overlaps or begins before the start line, a turn takes the work of all its plucks.
TEST(Load, ATurnTakesTheWorkOfItsPlucks) {
  std::mt19937 random(20261126);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int round = 0; round < 50; ++round) {
    std::vector<PluckLoad> plucks;
    double teeth = 0.0;
    double wheels = 0.0;
    for (int i = 0; i < 40; ++i) {
      const double drive = 0.001 + 0.3 * share(random);
      plucks.push_back({.release_rad = i == 0 ? 0.0 : turn_rad * share(random),
                        .lift_rad = drive * (0.2 + 0.8 * share(random)),
                        .drive_rad = drive,
                        .work_j = 1e-3 * share(random),
                        .wheel_j = 1e-3 * share(random)});
      teeth += plucks.back().work_j;
      wheels += plucks.back().wheel_j;
    }
    const Load made = load(loaded_box(), plucks);
    EXPECT_NEAR(work_of(made, true) / teeth, 1.0, 1e-10);
    EXPECT_NEAR(work_of(made, false) / wheels, 1.0, 1e-10);
    EXPECT_NEAR(made.pluck_j, teeth, 1e-15);
  }
}

}  // namespace
}  // namespace combwright::motor
