// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"

// The mainspring: a strip between its arbor and the wall of its barrel. docs/motor.md tells the
// model.
namespace combwright::motor {

// E b h^3 / 12 of the strip, N m2.
double bending_stiffness_n_m2(const box::Spring& spring);

// By how much the torque of the free strip rises in a turn of the barrel, 2 pi EI / L.
double torque_per_turn_n_m(const box::Spring& spring);

// b h^2 sigma / 6: the bending moment that stresses the strip's faces by `stress_pa`.
double torque_at_stress_n_m(const box::Spring& spring, double stress_pa);

// The torque at one state of the spring.
struct SpringPoint {
  double turns = 0.0;  // of the barrel, from the strip lying on the wall
  double torque_n_m = 0.0;
  double slope_n_m = 0.0;  // torque for a turn
};

// Torque over turns without friction: a cubic through points with their slopes. It begins where the
// torque is 0 or the strip lies on the wall, and ends where all coils are tight on the arbor.
struct SpringCurve {
  std::vector<SpringPoint> points;  // by rising turns, at least two

  double least_turns() const { return points.front().turns; }
  double full_turns() const { return points.back().turns; }
  double usable_turns() const { return full_turns() - least_turns(); }
};

// Largest distance of the curve's torque from the model's, as a share of the full torque; of
// barrels whose strip fills 25 to 75 % of the room.
inline constexpr double spring_curve_error = 2e-7;

SpringCurve spring_curve(const box::Spring& spring);

// Torque at so many turns; beyond the curve's ends that of the end.
double torque_n_m(const SpringCurve& curve, double turns);

// Work that the spring gives between two numbers of turns within the curve, from > to, without
// friction.
double work_j(const SpringCurve& curve, double from_turns, double to_turns);

// The bending stress of the strip's faces over a wind, and how many winds it bears.
struct SpringLife {
  double greatest_pa = 0.0;
  double least_pa = 0.0;
  double reversed_pa = 0.0;  // Goodman's: fully reversed stress that tires the strip as much
  double winds = 0.0;        // until it breaks; infinite below the endurance limit
};

// From the torque at the two ends of the turns used: Goodman's line, then Basquin's between
// 0.9 of the tensile strength at 1e3 winds and half of it, at most 700 MPa, at 1e6 (the usual
// estimate for steel, from memory). It leaves out corrosion and the eyes at the strip's ends.
SpringLife spring_life(const box::Spring& spring, double full_torque_n_m, double last_torque_n_m);

}  // namespace combwright::motor
