// SPDX-License-Identifier: Apache-2.0
// Predictions and sizing of one small box, against runs done by hand.
#include "motor/motor.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include <gtest/gtest.h>

#include "base/angle.h"
#include "motor/size.h"

namespace combwright::motor {
namespace {

using std::numbers::pi;

box::Box small_box() {
  box::Box box;
  box.disc = {.diameter_m = 0.182, .thickness_m = 0.0004, .centre_hole_diameter_m = 0.006};
  box.disc.start_gap_rad = 8.0 * pi / 180.0;
  box.hold_down.roller_radius_m = {0.026, 0.0575, 0.089};
  box.friction = {.roller_force_n = 1.5, .roller = 0.05, .spindle = 0.15};
  box.motor.turn_time_s = 38.0;
  box.motor.tempo_drop = 0.025;
  box.motor.key_arm_m = 0.05;
  box::Spring& s = box.spring;
  s.strip_width_m = 0.012;
  s.strip_thickness_m = 0.00035;
  s.barrel_radius_m = 0.020;
  s.arbor_radius_m = 0.0055;
  s.strip_length_m = 1.65;
  s.modulus_pa = 205e9;
  s.stress_limit_pa = 1.4e9;
  s.turns_used = 4.5;
  s.turns_per_disc_turn = 0.75;
  s.turns_left_full = 0.8;
  s.coil_friction = 0.08;
  s.tensile_strength_pa = 1.9e9;

  box::Train& train = box.train;
  train.wheel_teeth = {96, 90, 76};
  train.pinion_teeth = {6, 6, 6};
  train.module_m = 0.0005;
  train.mesh_efficiency = 0.92;
  train.disc_mesh_efficiency = 0.92;
  train.screw_efficiency = 0.4;
  train.face_width_m = 0.003;
  box::Governor& g = box.governor;
  g.weight_count = 2;
  g.weight_mass_kg = 0.001;
  g.weight_radius_m = 0.007;
  g.weight_preload_n = 0.98;
  g.pad_radius_m = 0.009;
  g.pad_friction = 0.2;
  g.vane_count = 2;
  g.vane_mass_kg = 0.0003;
  g.vane_width_m = 0.012;
  g.vane_inner_radius_m = 0.005;
  g.vane_outer_radius_m = 0.020;
  g.vane_drag = 1.17;
  g.vane_pitch_rad = pi / 2.0;
  return box;
}

std::vector<PluckLoad> chords(double work_j) {
  std::vector<PluckLoad> plucks;
  for (int chord = 1; chord <= 18; ++chord)
    plucks.push_back({.release_rad = two_pi * chord / 19.0,
                      .lift_rad = 0.012,
                      .drive_rad = 0.03,
                      .work_j = work_j,
                      .wheel_j = 2e-4});
  return plucks;
}

TEST(Motor, ATurnTakesTheTimeItsGovernorIsSetFor) {
  box::Box box = small_box();
  for (const double turn_time : {30.0, 38.0, 60.0}) {
    const Prediction told = predict(box, chords(0.0), turn_time);
    ASSERT_EQ(told.hold, Hold::holds);
    box.governor = told.set;
    const Prediction set = predict(box, chords(0.0), turn_time);
    EXPECT_EQ(set.plays, 6);
    EXPECT_NEAR(set.mean_turn_s / turn_time, 1.0, 2e-3);
  }
}

// The last turn plays with the margin's load, and not with a hundredth more.
TEST(Motor, MarginIsTheLoadThatStillPlays) {
  const box::Box box = small_box();
  const Prediction p = predict(box, chords(3e-3), 38.0);
  ASSERT_TRUE(p.margin);
  ASSERT_GT(*p.margin, 1.0);
  ASSERT_LT(*p.margin, most_margin);
  const auto plays = [&](double times) {
    std::vector<PluckLoad> heavy = chords(3e-3 * times);
    for (PluckLoad& pluck : heavy) pluck.wheel_j *= times;
    return ends_its_last_turn(machine(box, load(box, heavy)));
  };
  EXPECT_TRUE(plays(*p.margin));
  EXPECT_FALSE(plays(*p.margin * 1.01));
}

TEST(Motor, MarginEndsAtItsCap) {
  std::vector<PluckLoad> light = chords(1e-9);
  for (PluckLoad& pluck : light) pluck.wheel_j = 0.0;
  EXPECT_EQ(predict(small_box(), light, 38.0).margin, most_margin);
}

TEST(Motor, MarginIsNotTriedOfAWindThatStalls) {
  const Prediction p = predict(small_box(), chords(1.0), 38.0);
  EXPECT_TRUE(p.run.stalls);
  EXPECT_FALSE(p.margin);
}

// Some 7 turns of the barrel at a thousandth for a turn of the disc would be thousands.
TEST(Motor, AWindWithoutStopIsCountedToItsBound) {
  box::Box box = small_box();
  box.spring.turns_used = 0.02;
  box.spring.turns_per_disc_turn = 0.001;
  box.friction = {};
  EXPECT_NEAR(predict(box, {}, 38.0).turns_without_stop, most_turns, 1e-6);
}

// What is let pass is where the finding begins.
TEST(Motor, ATurnTimeWithinItsBoundsIsNoFinding) {
  box::Box box = small_box();
  box.governor = predict(box, chords(0.0), 38.0).set;
  const auto told = [&](double asked_s) {
    const Prediction p = predict(box, chords(0.0), asked_s);
    const TimeBounds bounds = turn_time_bounds(box.motor, asked_s);
    const bool off = std::any_of(p.findings.begin(), p.findings.end(), [](const Finding& f) {
      return f.what.find("on the mean of a wind") != std::string::npos;
    });
    EXPECT_EQ(off, p.mean_turn_s < bounds.least_s || p.mean_turn_s > bounds.most_s);
    return off;
  };
  EXPECT_FALSE(told(38.0));
  EXPECT_TRUE(told(38.0 * (1.0 + 2.0 * box.motor.tempo_drop)));
  EXPECT_TRUE(told(38.0 * (1.0 - 2.0 * box.motor.tempo_drop)));
}

// The coils rub both ways (text-books of clockwork): the mean of the two is the spring's own.
TEST(Motor, TheHandFeelsMoreThanTheBoxGets) {
  const Machine made = machine(small_box(), Load{});
  for (double turns = made.last_turns; turns < made.full_turns; turns += 0.5) {
    const double winding = winding_torque_n_m(made, turns);
    const double running = running_torque_n_m(made, turns);
    EXPECT_GT(winding, running);
    EXPECT_NEAR(0.5 * (winding + running), torque_n_m(made.spring, turns), 1e-12);
  }
}

TEST(Sizing, EveryDesignKeepsTheWishesOfAGrid) {
  const box::Box box = small_box();
  const std::vector<PluckLoad> plucks = chords(1e-3);
  int designs = 0;
  for (const int plays : {3, 6}) {
    for (const double turn_time : {38.0, 60.0}) {
      const Wishes wishes{
          .plays = plays, .turn_time_s = turn_time, .tempo_drop = 0.02, .barrel_radius_m = 0.022};
      for (const SizedMotor& design : size_motor(box, {}, plucks, wishes).designs) {
        const Prediction p = predict(design.box, plucks, turn_time);
        EXPECT_GE(p.plays, plays);
        EXPECT_NEAR(p.mean_turn_s / turn_time, 1.0, 1e-3);
        EXPECT_LE(p.tempo_drop, wishes.tempo_drop);
        EXPECT_GE(p.margin.value_or(0.0), least_margin);
        EXPECT_GE(p.life.winds, least_winds);
        ++designs;
      }
    }
  }
  EXPECT_GE(designs, 4);
}

TEST(Sizing, KeysTellTurnTimeAndDropWhereTheyDiffer) {
  const box::Box now = small_box();
  box::Box made = now;
  EXPECT_EQ(box_lines(made, now).find("[motor]"), std::string::npos);
  made.motor.turn_time_s = 60.0;
  made.motor.tempo_drop = 0.02;
  EXPECT_EQ(box_lines(made, now).find("[motor]\nturn_time = \"60 s\"\ntempo_drop = \"2 %\"\n\n"),
            0U);
}

}  // namespace
}  // namespace combwright::motor
