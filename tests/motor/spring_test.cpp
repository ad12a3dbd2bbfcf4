// SPDX-License-Identifier: Apache-2.0
// The barrel of the books: 6.1 m of strip, 30 mm by 0.5 mm, on a core of 12.5 mm in a barrel of
// 46 mm. Their numbers come from closed forms worked out apart from this code.
#include "motor/spring.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "box/barrel_turns.h"

namespace combwright::motor {
namespace {

using std::numbers::pi;

box::Spring book() {
  box::Spring spring;
  spring.strip_width_m = 0.030;
  spring.strip_thickness_m = 0.0005;
  spring.strip_length_m = 6.1;
  spring.barrel_radius_m = 0.046;
  spring.arbor_radius_m = 0.0125;
  spring.modulus_pa = 205e9;
  spring.stress_limit_pa = 1.4e9;
  spring.tensile_strength_pa = 1.9e9;
  return spring;
}

TEST(Spring, CoilsOfTheBooksAreCountedByTheStripsFaces) {
  const box::Spring s = book();
  const double h = s.strip_thickness_m;
  const double area = s.strip_length_m * h / pi;
  const double tight =
      (std::sqrt(s.arbor_radius_m * s.arbor_radius_m + area) - s.arbor_radius_m) / h;
  const double down =
      (s.barrel_radius_m - std::sqrt(s.barrel_radius_m * s.barrel_radius_m - area)) / h;
  // The middle line begins half a thickness further out, and ends half a thickness further in.
  EXPECT_NEAR(tight - box::coils(s.arbor_radius_m, h, s.strip_length_m), 0.5, 0.2);
  EXPECT_NEAR(box::coils(s.barrel_radius_m, -h, s.strip_length_m) - down, 0.5, 0.35);
}

TEST(Spring, CoilsOfTheExactSpiral) {
  const box::Spring s = book();
  EXPECT_NEAR(box::coils(s.arbor_radius_m, s.strip_thickness_m, s.strip_length_m), 41.8321, 5e-5);
  EXPECT_NEAR(box::coils(s.barrel_radius_m, -s.strip_thickness_m, s.strip_length_m), 24.5009, 5e-5);
  EXPECT_NEAR(box::barrel_turns(s), 17.3311, 5e-5);
}

TEST(Spring, StiffnessAndTorqueOfTheBooks) {
  const box::Spring s = book();
  EXPECT_NEAR(bending_stiffness_n_m2(s), 0.0640625, 1e-15);
  EXPECT_NEAR(torque_per_turn_n_m(s), 0.06598632, 5e-9);
  EXPECT_NEAR(torque_at_stress_n_m(s, 1.4e9), 1.75, 1e-12);
  EXPECT_NEAR(torque_per_turn_n_m(s) * 42.1444757, 2.780959, 1e-6);
  EXPECT_NEAR(torque_per_turn_n_m(s) * 24.3197267, 1.604769, 1e-6);
  EXPECT_NEAR(torque_per_turn_n_m(s) * 17.8247489, 1.176190, 1e-6);
}

TEST(Spring, SetToItsLimitTheWoundStripHasTheTorqueOfThatStress) {
  const SpringCurve curve = spring_curve(book());
  EXPECT_NEAR(curve.points.back().torque_n_m, 1.75, 1e-6);
  // The curve leaves out that a coil climbs by the strip's thickness.
  EXPECT_NEAR(curve.full_turns(), box::barrel_turns(book()), 2e-4);
}

// As long as the whole strip is free, its torque falls as the book's line does.
TEST(Spring, FreeStripFollowsTheBooksLine) {
  const SpringCurve curve = spring_curve(book());
  const double per_turn = torque_per_turn_n_m(book());
  for (double turns = 0.1; turns < 7.0; turns += 0.5)
    EXPECT_NEAR(torque_n_m(curve, curve.full_turns() - turns), 1.75 - per_turn * turns, 2e-6);
}

// A strip that never sets: the moment that holds it tight on the arbor at its innermost place, and
// the one at which its outermost place comes off the wall.
TEST(Spring, ElasticStripLeavesTheWallAndTightensByCurvature) {
  box::Spring s = book();
  s.stress_limit_pa = 40e9;
  const SpringCurve curve = spring_curve(s);
  const double stiffness = bending_stiffness_n_m2(s);
  EXPECT_NEAR(curve.points.back().torque_n_m, stiffness / 0.01275, 1e-6);
  EXPECT_NEAR(curve.points.front().torque_n_m, stiffness / 0.04575, 1e-6);
  EXPECT_NEAR(curve.usable_turns(), box::barrel_turns(s), 2e-4);
}

// The same model by brute force: every one of many places on its own, the moment by bisection.
double brute_torque(const box::Spring& s, double turns) {
  constexpr int many = 20000;
  const double h = s.strip_thickness_m;
  const double set = 2.0 * s.stress_limit_pa / (s.modulus_pa * h);
  const double ra = s.arbor_radius_m + 0.5 * h;
  const double rw = s.barrel_radius_m - 0.5 * h;
  double low = 0.0;
  double high = 200.0;
  for (int step = 0; step < 45; ++step) {
    const double m = 0.5 * (low + high);
    double sum = 0.0;
    for (int i = 0; i < many; ++i) {
      const double at = s.strip_length_m * (i + 0.5) / many;
      const double arbor = 1.0 / std::sqrt(ra * ra + at * h / pi);
      const double wall = 1.0 / std::sqrt(rw * rw - (s.strip_length_m - at) * h / pi);
      const double natural = std::max(0.0, arbor - set);
      sum += std::clamp(natural + m, wall, arbor) - wall;
    }
    (sum * s.strip_length_m / many / (2.0 * pi) < turns ? low : high) = m;
  }
  return low * bending_stiffness_n_m2(s);
}

TEST(Spring, CurveKeepsItsError) {
  box::Spring thin = book();
  thin.strip_length_m = 1.65;
  thin.strip_width_m = 0.012;
  thin.strip_thickness_m = 0.00035;
  thin.barrel_radius_m = 0.020;
  thin.arbor_radius_m = 0.0055;
  box::Spring short_strip = book();
  short_strip.strip_length_m = 3.2;
  for (const box::Spring& s : {book(), thin, short_strip}) {
    const SpringCurve curve = spring_curve(s);
    const double full = curve.points.back().torque_n_m;
    for (const double share : {0.02, 0.11, 0.23, 0.37, 0.52, 0.61, 0.83, 0.97}) {
      const double turns = curve.least_turns() + share * curve.usable_turns();
      EXPECT_NEAR(torque_n_m(curve, turns), brute_torque(s, turns), spring_curve_error * full)
          << share;
    }
  }
}

TEST(Spring, TorqueNeverFallsWhileWinding) {
  const SpringCurve curve = spring_curve(book());
  double last = 0.0;
  for (int i = 0; i <= 4000; ++i) {
    const double torque =
        torque_n_m(curve, curve.least_turns() + curve.usable_turns() * i / 4000.0);
    EXPECT_GE(torque, last - 1e-12);
    last = torque;
  }
}

// Steep where coils come to rest on arbor and wall, flattest between.
TEST(Spring, TorqueIsSteeperNearTheWall) {
  const SpringCurve curve = spring_curve(book());
  const auto slope = [&](double turns) {
    return (torque_n_m(curve, turns + 0.01) - torque_n_m(curve, turns - 0.01)) / 0.02;
  };
  EXPECT_GT(slope(curve.least_turns() + 0.5), 3.0 * slope(curve.full_turns() - 4.0));
}

TEST(Spring, WorkIsTheAreaUnderTheTorque) {
  const SpringCurve curve = spring_curve(book());
  const double from = curve.full_turns() - 1.3;
  const double to = from - 9.7;
  constexpr int many = 40000;
  double sum = 0.0;
  for (int i = 0; i < many; ++i) sum += torque_n_m(curve, to + (from - to) * (i + 0.5) / many);
  EXPECT_NEAR(work_j(curve, from, to), 2.0 * pi * sum * (from - to) / many, 1e-5);
}

// Straight from 1.75 N m over the book's turns: 130.128967 J.
TEST(Spring, WorkOfAStraightLineIsTheBooks) {
  const SpringCurve line{
      {{0.0, 1.75 - 0.06598632 * 17.8247489, 0.06598632}, {17.8247489, 1.75, 0.06598632}}};
  EXPECT_NEAR(work_j(line, 17.8247489, 0.0), 130.128967, 5e-6);
}

// Goodman's line and Basquin's by hand: 1000 MPa down to 0 with a strength of 2000 MPa is a mean
// and amplitude of 500, reversed 500 / (1 - 1/4).
TEST(Spring, LifeFollowsGoodmanAndBasquin) {
  box::Spring s = book();
  s.tensile_strength_pa = 2e9;
  const double full = torque_at_stress_n_m(s, 1e9);
  EXPECT_NEAR(spring_life(s, full, 0.0).reversed_pa, 500e6 / 0.75, 1.0);
  EXPECT_TRUE(std::isinf(spring_life(s, full, 0.0).winds));
  // 1800 MPa reversed at 1e3, 700 at 1e6: half-way between in logarithms at 10^4.5.
  const double amplitude = std::sqrt(1800e6 * 700e6);
  const double greatest = 2.0 * amplitude / (1.0 + amplitude / 2e9);
  const SpringLife life = spring_life(s, torque_at_stress_n_m(s, greatest), 0.0);
  EXPECT_NEAR(life.reversed_pa, amplitude, 10.0);
  EXPECT_NEAR(life.winds, std::pow(10.0, 4.5), 1.0);
}

}  // namespace
}  // namespace combwright::motor
