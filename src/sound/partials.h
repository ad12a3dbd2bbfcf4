// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "box/box.h"

namespace combwright::sound {

inline constexpr int partial_count = 4;

// One mode of a uniform clamped-free beam with a point mass at its tip.
struct BeamMode {
  double lambda = 0.0;         // frequency goes with lambda^2
  double tip_amplitude = 0.0;  // of its motion after the tip is let go, over the static lift
};

// The first modes for a lead of `mass_ratio` = lead mass / mass of the bare tooth, 0 or more.
// Roots of 1 + cos l cosh l - m l (sin l cosh l - cos l sinh l) = 0 (Swaminadham & Michael, Journal
// of Sound and Vibration 66, 1979); amplitudes 3 / (l^4 (integral phi^2 + m)), all summing to 1.
std::array<BeamMode, partial_count> beam_modes(double mass_ratio);

// Largest relative error of lambda and of tip_amplitude for mass ratios from 0 to 10.
inline constexpr double beam_mode_error = 1e-9;

// What the ear gets of one mode: amplitude * exp(-decay_per_s t) * sin(2 pi frequency_hz t).
struct Partial {
  double frequency_hz = 0.0;
  double amplitude = 0.0;  // the lowest partial of every tooth has 1
  double decay_per_s = 0.0;
};

// A first model, to be replaced by measured combs. A tooth of frequency f rings, to -60 dB, for
// longest_ring_s at C2 and shortest_ring_s at C8, a straight line between them on logarithmic
// scales and constant outside; its upper partials for a time shorter by the square root of their
// frequency ratio.
inline constexpr double longest_ring_s = 6.0;
inline constexpr double shortest_ring_s = 1.0;
double ring_time_s(double fundamental_hz, double partial_hz);

// A first model. The sound of a mode follows the acceleration of its motion, so that bare teeth
// would sound white (all modes alike) if they were let go at once; letting go takes release_time_s,
// which weakens high partials by 1 / (1 + (2 pi f release_time_s)^2). All teeth are lifted so
// as to be equally loud.
inline constexpr double release_time_s = 80e-6;
std::array<Partial, partial_count> partials(double fundamental_hz, double lead_mass_ratio);

// A first model of the leads: the mass ratio falls in equal steps from 1 at the lowest note of the
// scale to 0 at the highest; 0 if the scale is a single note.
double lead_mass_ratio(const box::Scale& scale, int midi);

}  // namespace combwright::sound
