// SPDX-License-Identifier: Apache-2.0
#include "action/passage.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "action/action.h"
#include "action/strike.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

constexpr double degree = std::numbers::pi / 180.0;

box::Box passing_box() {
  box::Box box;
  box.tracks = {.count = 2, .inner_radius_m = 0.05, .pitch_m = 0.05};
  box.scale.midi = {48, 72};
  box.disc.thickness_m = 0.0005;
  box.disc.yield_strength_pa = 200e6;
  box.projection = {.length_m = 0.0012, .width_m = 0.001, .height_m = 0.001, .web_m = 0.0008};
  box.star_wheel = {.points = 8,
                    .tip_radius_m = 0.004,
                    .axis_below_disc_m = 0.0045,
                    .tooth_overlap_m = 0.0001,
                    .tip_rounding_m = 0.00005,
                    .flank_rad = 8.0 * degree,
                    .thickness_m = 0.001,
                    .density_kg_m3 = 8500.0,
                    .friction = 0.15,
                    .brake_torque_nm = 1e-4};
  box.combs.resize(2);
  for (box::Comb& comb : box.combs) {
    comb.longest_tooth_m = 0.030;
    comb.shortest_tooth_m = 0.020;
  }
  box.combs[1].plucked = box::Plucked::up;
  box.damper = {.lead_time_s = 0.01, .reach_m = 0.0008, .stiffness_n_m = 50.0};
  return box;
}

const std::vector<std::vector<double>> stiffness{{800.0, 1000.0}, {700.0, 900.0}};

// Smooth, all of the disc's work is in the bent teeth and the damper, k d^2 / 2 each, and in the
// brake over one pitch.
TEST(Passage, WithoutFrictionTheWorkIsWhatTeethDamperAndBrakeTook) {
  for (const double corner : {0.0, 0.0002}) {
    box::Box box = passing_box();
    box.star_wheel.friction = 0.0;
    box.projection.corner_m = corner;
    const auto tracks = action(box, 60.0);
    for (const Passage& passage : passages(box, stiffness, 60.0)) {
      const auto i = static_cast<std::size_t>(passage.track - 1);
      double due = 1e-4 * std::numbers::pi / 4.0 + 0.5 * 50.0 * 0.0008 * 0.0008;
      for (const ToothAction& tooth : tracks[i].teeth)
        due += 0.5 * stiffness[tooth.comb][i] * tooth.lift_m * tooth.lift_m;
      EXPECT_NEAR(passage.work_j / due, 1.0, passage_error);
      EXPECT_NEAR(passage.friction_j, 0.0, passage_error * due);
    }
  }
}

TEST(Passage, TheBooksBalanceWithFriction) {
  for (const Passage& passage : passages(passing_box(), stiffness, 60.0)) {
    EXPECT_GT(passage.friction_j, 0.0);
    EXPECT_NEAR((passage.teeth_j + passage.damper_j + passage.brake_j + passage.friction_j) /
                    passage.work_j,
                1.0, passage_error);
  }
}

// The work is the force summed over the travel (trapezoids).
TEST(Passage, MomentsGiveTheForceOverTheTravel) {
  const box::Box box = passing_box();
  const Passage passage = passages(box, stiffness, 60.0)[1];
  const auto all = moments(box, 2, {stiffness[0][1], stiffness[1][1]}, 40001);
  double work = 0.0;
  double most = 0.0;
  for (std::size_t i = 1; i < all.size(); ++i) {
    work += 0.5 * (all[i].force_n + all[i - 1].force_n) * (all[i].travel_m - all[i - 1].travel_m);
    most = std::max(most, all[i].force_n);
  }
  EXPECT_NEAR(work / passage.work_j, 1.0, 1e-3);
  EXPECT_NEAR(most / passage.peak_force_n, 1.0, 1e-3);
  EXPECT_EQ(all.front().travel_m, 0.0);
  EXPECT_NEAR(all.back().travel_m, passage.travel_m, 1e-12);
}

// 6 F h / (b t^2), a cantilever pushed at its end.
TEST(Passage, ProjectionsBendAsCantilevers) {
  const Passage passage = passages(passing_box(), stiffness, 60.0)[0];
  EXPECT_NEAR(passage.bending_stress_pa,
              6.0 * passage.peak_force_n * 0.001 / (0.001 * 0.0005 * 0.0005), 1.0);
}

// A full disc of tip radius, as fast as the projection turns the point just let go by the tooth.
TEST(Passage, TheBrakeTakesUpTheWheelsEnergy) {
  const box::Box box = passing_box();
  const box::StarDrive drive = box::star_drive(box);
  const Passage passage = passages(box, stiffness, 60.0)[1];
  const double slip = strike(box, drive, 0, 1).slip_rad;
  const double speed = 2.0 * std::numbers::pi * 0.1 / 60.0;
  const double per_rad = (drive.face_m(slip + 1e-6) - drive.face_m(slip - 1e-6)) / 2e-6;
  const double inertia = 0.5 * std::numbers::pi * 8500.0 * 0.001 * std::pow(0.004, 4);
  EXPECT_NEAR(passage.run_out_rad * 1e-4 / (0.5 * inertia * std::pow(speed / per_rad, 2)), 1.0,
              1e-6);
}

TEST(PassageFindings, WeakSheetAndWheelsWithoutABrake) {
  box::Box box = passing_box();
  EXPECT_TRUE(findings(box, passages(box, stiffness, 60.0)).empty());
  box.disc.thickness_m = 0.0001;
  box.star_wheel.brake_torque_nm = 0.0;
  const Findings told = findings(box, passages(box, stiffness, 60.0));
  ASSERT_EQ(told.size(), 2U);
  EXPECT_NE(told[0].what.find("the sheet yields at"), std::string::npos);
  EXPECT_NE(told[1].what.find("nothing holds the star wheels"), std::string::npos);
}

}  // namespace
}  // namespace combwright::action
