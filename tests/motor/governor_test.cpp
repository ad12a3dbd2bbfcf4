// SPDX-License-Identifier: Apache-2.0
// Check values worked out apart from this code.
#include "motor/governor.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace combwright::motor {
namespace {

box::Governor fan() {
  box::Governor g;
  g.kind = box::GovernorKind::vane;
  g.vane_count = 2;
  g.vane_mass_kg = 0.0003;
  g.vane_width_m = 0.012;
  g.vane_inner_radius_m = 0.005;
  g.vane_outer_radius_m = 0.020;
  g.vane_drag = 1.17;
  g.vane_pitch_rad = std::numbers::pi / 2.0;
  return g;
}

box::Governor pads() {
  box::Governor g;
  g.kind = box::GovernorKind::friction;
  g.weight_count = 2;
  g.weight_mass_kg = 0.0015;
  g.weight_radius_m = 0.010;
  g.weight_preload_n = 0.25;
  g.pad_radius_m = 0.012;
  g.pad_friction = 0.2;
  return g;
}

TEST(Governor, FanTorque) {
  const GovernorLaw law = governor_law(fan());
  EXPECT_NEAR(law.square_n_m_s2, 6.735811e-10, 5e-16);
  EXPECT_NEAR(brake_n_m(law, 385.3054), 1e-4, 1e-10);
}

TEST(Governor, WeightsGripAndHold) {
  const GovernorLaw law = governor_law(pads());
  EXPECT_NEAR(std::sqrt(law.grip_rad2_s2), 129.0994, 5e-5);
  EXPECT_NEAR(brake_n_m(law, 153.6591), 0.5e-3, 1e-9);
  EXPECT_NEAR(brake_n_m(law, 174.8015), 1e-3, 1e-9);
  EXPECT_NEAR(brake_n_m(law, 210.8185), 2e-3, 1e-9);
  EXPECT_NEAR(brake_n_m(law, 268.7419), 4e-3, 1e-9);
  EXPECT_EQ(brake_n_m(law, 120.0), 0.0);
}

TEST(Governor, ASettingTakesTheTorqueAskedFor) {
  for (const box::Governor& g : {pads(), fan()}) {
    const double torque = g.kind == box::GovernorKind::vane ? 0.5e-4 : 1e-3;
    const Setting set = set_to(g, 385.0, torque);
    EXPECT_EQ(set.hold, Hold::holds);
    const GovernorLaw law = governor_law(set.governor);
    EXPECT_NEAR(brake_n_m(law, 385.0), torque, 1e-12);
  }
}

TEST(Governor, AFanThatIsTooSmallStandsSquare) {
  const Setting set = set_to(fan(), 385.0, 1.0);
  EXPECT_EQ(set.hold, Hold::too_weak);
  EXPECT_DOUBLE_EQ(set.governor.vane_pitch_rad, std::numbers::pi / 2.0);
}

// 1.5 g at 10 mm pull with 100 N at 2582 rad/s; 4 mN m press the two pads with 0.83 N each.
TEST(Governor, WhatCannotBeSetIsToldAndStaysWithinTheKeysBounds) {
  const Setting fast = set_to(pads(), 1e6, 4e-3);
  EXPECT_EQ(fast.hold, Hold::too_strong);
  EXPECT_EQ(fast.governor.weight_preload_n, 100.0);
  const Setting slow = set_to(pads(), 10.0, 4e-3);
  EXPECT_EQ(slow.hold, Hold::too_weak);
  EXPECT_EQ(slow.governor.weight_preload_n, 0.0);
  EXPECT_EQ(set_to(pads(), 385.0, 0.0).hold, Hold::no_torque);
  EXPECT_EQ(set_to(pads(), 2500.0, 4e-3).hold, Hold::holds);
  EXPECT_EQ(set_to(fan(), 385.0, 1e-9).hold, Hold::too_strong);
}

}  // namespace
}  // namespace combwright::motor
