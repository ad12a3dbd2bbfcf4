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
    const GovernorLaw law = governor_law(set_to(g, 385.0, torque));
    EXPECT_NEAR(brake_n_m(law, 385.0), torque, 1e-12);
  }
}

TEST(Governor, AFanThatIsTooSmallStandsSquare) {
  EXPECT_DOUBLE_EQ(set_to(fan(), 385.0, 1.0).vane_pitch_rad, std::numbers::pi / 2.0);
}

}  // namespace
}  // namespace combwright::motor
