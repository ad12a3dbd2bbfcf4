// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

#include "box/box.h"

namespace combwright::motor {

// What holds the speed. Both kinds brake in a straight line over the square of their speed, w^2:
// torque = square * w^2 - offset, from the speed on at which they grip.
struct GovernorLaw {
  double square_n_m_s2 = 0.0;
  double offset_n_m = 0.0;    // 0 of vanes
  double grip_rad2_s2 = 0.0;  // w^2 from which it brakes; 0 of vanes
  double inertia_kg_m2 = 0.0;
};

// Density of the air that vanes turn in, at 20 C and sea level, kg/m3.
inline constexpr double air_density = 1.2041;

// Vanes: K = n (1/2) rho Cd W (r2^4 - r1^4) / 4 in still air, times sin^2 of their pitch (a fit:
// measure the speed and set the drag coefficient by it). Weights: f Rd n (m r w^2 - F0) once they
// have flown out, their mass at one radius.
GovernorLaw governor_law(const box::Governor& governor);

double brake_n_m(const GovernorLaw& law, double speed_rad_s);

// Whether a governor can be set to take a torque at a speed.
enum class Hold {
  holds,
  too_weak,    // it takes less, however it is set
  too_strong,  // it takes more, however it is set
  no_torque    // there is none to take
};

struct Setting {
  box::Governor governor;
  Hold hold = Hold::holds;
};

// The governor set anew so that it takes `torque_n_m` at `speed_rad_s`: weights by the force of
// their springs, vanes by their pitch. What can't be set so far is set as far as it goes, within
// the bounds of the box file's keys.
Setting set_to(box::Governor governor, double speed_rad_s, double torque_n_m);

// Why such a governor can't be set, and what would help: "too weak: take more or heavier weights or
// another ratio". Empty if it holds.
std::string_view hold_problem(Hold hold, box::GovernorKind kind);

}  // namespace combwright::motor
