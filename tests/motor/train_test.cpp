// SPDX-License-Identifier: Apache-2.0
// Check values from involute geometry and the books' formula, worked out apart from this code.
#include "motor/train.h"

#include <gtest/gtest.h>

namespace combwright::motor {
namespace {

TEST(Train, ContactRatios) {
  EXPECT_NEAR(contact_ratio(12, 60), 1.602528, 5e-7);
  EXPECT_NEAR(contact_ratio(17, 51), 1.636446, 5e-7);
  EXPECT_NEAR(contact_ratio(20, 80), 1.691292, 5e-7);
}

TEST(Train, FlankEfficiencies) {
  EXPECT_NEAR(1.0 - flank_efficiency(12, 60, 1.0), 0.2193196, 5e-8);
  EXPECT_NEAR(1.0 - flank_efficiency(17, 51, 1.0), 0.1749265, 5e-8);
  EXPECT_NEAR(1.0 - flank_efficiency(20, 80, 1.0), 0.1468658, 5e-8);
  EXPECT_NEAR(flank_efficiency(12, 60, 0.1), 0.978068, 5e-7);
  EXPECT_NEAR(flank_efficiency(17, 51, 0.1), 0.982507, 5e-7);
  EXPECT_NEAR(flank_efficiency(20, 80, 0.1), 0.985313, 5e-7);
}

box::Train train(std::vector<int> wheels, std::vector<int> pinions, double efficiency) {
  return {.wheel_teeth = std::move(wheels),
          .pinion_teeth = std::move(pinions),
          .module_m = 0.001,
          .mesh_efficiency = efficiency,
          .screw_efficiency = 0.4,
          .face_width_m = 0.006};
}

// The worked example of a gear maker's handbook, from memory: module 3, 12 and 24 teeth have pitch
// circles of 36 and 72, blanks of 42 and 78, roots of 28.5 and 64.5, axes 54 mm apart.
TEST(Train, BlanksAndAxesAreTheHandbooks) {
  box::Train pair = train({24}, {12}, 0.95);
  pair.module_m = 0.003;
  const Gear pinion = gear(12, pair.module_m);
  const Gear wheel = gear(24, pair.module_m);
  EXPECT_NEAR(2e3 * pinion.pitch_radius_m, 36.0, 1e-9);
  EXPECT_NEAR(2e3 * wheel.pitch_radius_m, 72.0, 1e-9);
  EXPECT_NEAR(2e3 * pinion.blank_radius_m, 42.0, 1e-9);
  EXPECT_NEAR(2e3 * wheel.blank_radius_m, 78.0, 1e-9);
  EXPECT_NEAR(2e3 * pinion.root_radius_m, 28.5, 1e-9);
  EXPECT_NEAR(2e3 * wheel.root_radius_m, 64.5, 1e-9);
  EXPECT_NEAR(1e3 * axes_apart_m(pair, 0), 54.0, 1e-9);
}

TEST(Train, EfficienciesMultiply) {
  EXPECT_NEAR(train_efficiency(train({60, 60, 60, 60}, {10, 10, 10, 10}, 0.95)), 0.814506, 5e-7);
  EXPECT_NEAR(train_efficiency(train({60, 60, 60, 60}, {10, 10, 10, 10}, 0.98)), 0.922368, 5e-7);
  EXPECT_DOUBLE_EQ(train_ratio(train({96, 80, 72}, {8, 8, 6}, 0.9)), 1440.0);
}

TEST(Train, AScrewHasItsOwnEfficiency) {
  const box::Train screw = train({96, 80}, {8, 1}, 0.9);
  EXPECT_DOUBLE_EQ(train_ratio(screw), 960.0);
  EXPECT_NEAR(train_efficiency(screw), 0.36, 1e-12);
  EXPECT_NEAR(train_back_efficiency(screw), (2.0 - 1.0 / 0.9) / 1.6, 1e-12);
}

// Friction that takes half the torque one way holds the other way.
TEST(Train, WheelsThatLoseHalfLockWhenDrivenBack) {
  EXPECT_EQ(back_efficiency(0.5, false), 0.0);
  EXPECT_EQ(back_efficiency(0.3, false), 0.0);
  EXPECT_DOUBLE_EQ(back_efficiency(1.0, false), 1.0);
  EXPECT_DOUBLE_EQ(back_efficiency(1.0, true), 1.0);
}

// 2 N m on a wheel of 100 teeth, module 1 mm, 6 mm wide: 40 N at its pitch circle.
TEST(Train, StressesOfOnePairByHand) {
  const Mesh mesh = meshes(train({100}, {20}, 1.0), 2.0)[0];
  EXPECT_NEAR(mesh.bending_pa, 40.0 / (0.006 * 0.001 * (0.484 - 0.0287)), 1.0);
  const double compliance = (1.0 - 0.34 * 0.34) / 100e9 + (1.0 - 0.29 * 0.29) / 205e9;
  const double sin20 = 0.3420201433256687;
  const double cos20 = 0.9396926207859084;
  const double bend = 0.010 * 0.050 / 0.060 * sin20;
  const double square = 40.0 / cos20 / (3.141592653589793 * 0.006 * bend * compliance);
  EXPECT_NEAR(mesh.contact_pa * mesh.contact_pa / square, 1.0, 1e-12);
}

TEST(Train, TorqueFallsByRatioAndLoss) {
  const std::vector<Mesh> two = meshes(train({100, 60}, {20, 10}, 0.9), 2.0);
  EXPECT_NEAR(two[1].wheel_torque_n_m, 2.0 * 0.9 / 5.0, 1e-12);
  EXPECT_LT(two[1].bending_pa, two[0].bending_pa);
}

}  // namespace
}  // namespace combwright::motor
