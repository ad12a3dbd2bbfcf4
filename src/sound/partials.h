// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "steel/tooth.h"

namespace combwright::sound {

inline constexpr int partial_count = 4;

// What the bedplate gets of one mode of a tooth:
// force_n * exp(-decay_per_s t) * sin(2 pi frequency_hz t).
struct Partial {
  double frequency_hz = 0.0;
  double force_n = 0.0;
  double decay_per_s = 0.0;
};

// A first model, to be replaced by measured combs. A tooth of frequency f rings, to -60 dB, for
// longest_ring_s at C2 and shortest_ring_s at C8, a straight line between them on logarithmic
// scales and constant outside; its upper partials for a time shorter by the square root of their
// frequency ratio.
inline constexpr double longest_ring_s = 6.0;
inline constexpr double shortest_ring_s = 1.0;
double ring_time_s(double fundamental_hz, double partial_hz);

// A first model of letting go, which takes this long instead of no time: it weakens a partial by
// 1 / (1 + (2 pi f release_time_s)^2).
inline constexpr double release_time_s = 80e-6;

// The first modes of a tooth after its tip was lifted by `lift_m` (0 or more) and let go, lowest
// first: steel::modes() with its claimed errors; the force is the greatest shear at the root.
std::array<Partial, partial_count> partials(const steel::Tooth& tooth, double lift_m);

}  // namespace combwright::sound
