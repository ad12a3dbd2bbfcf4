// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/modes.h"
#include "steel/tooth.h"

namespace combwright::steel {

// What one mode does after the tip was lifted and let go at once.
struct PluckedMode {
  double frequency_hz = 0.0;
  double amplitude_m = 0.0;  // of the tip
  double root_stress_pa =
      0.0;  // amplitude, at the steel's surface; its sign at the moment of release
};

struct Pluck {
  double force_n = 0.0;  // at the tip, just before it is let go
  double energy_j = 0.0;
  double root_stress_pa = 0.0;  // under the static lift, at the surface; no fillet counted
  // Never exceeded after the release, undamped: all modes at their greatest at once. Over 50
  // periods a bare tooth reaches 96 % of it, one with a lead at the tip of half its mass and more
  // 99 %.
  double peak_root_stress_pa = 0.0;
  std::vector<PluckedMode> modes;
};

// Higher modes hardly add stress, and die before the first has swung once.
inline constexpr int plucked_modes = 10;

// The tip lifted by `lift_m` and let go; amplitudes of 1 <= count <= most_modes modes.
Pluck pluck(const Tooth& tooth, double lift_m, int count = plucked_modes);

}  // namespace combwright::steel
