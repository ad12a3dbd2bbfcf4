// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "steel/tooth.h"

// What the tuner's pliers, file and thermometer do to the pitch of the first mode. All by solving
// the changed tooth again, so that a large change is as right as a small one.
namespace combwright::steel {

// Largest relative error of a sensitivity (change for a unit of what is done).
inline constexpr double sensitivity_relative_error = 1e-6;

// In degrees Celsius, at which pitches of teeth are compared, and which a tooth is taken to have if
// nobody measured its temperature.
inline constexpr double reference_c = 20.0;

// The tooth with `mass_kg` clipped off the tip end of one of its leads: a block gets shorter, a
// point lighter. The mass must be less than the lead's.
Tooth clipped(const Tooth& tooth, std::size_t lead, double mass_kg);

// The tooth with its steel thinner by `depth_m` between two positions; the depth must leave some.
// Negative depths add steel. Leads keep their distance from the middle of the steel.
Tooth filed(const Tooth& tooth, double from_m, double to_m, double depth_m);

// Pitch of the first mode of one tooth above that of another.
double cents_between(const Tooth& from, const Tooth& to);

struct Sensitivity {
  // For each milligram clipped off the tip end of the lead next to the tip; without a lead, for
  // each milligram less at the tip.
  double clip_cents_per_mg = 0.0;
  // For each micrometre filed off the tenth of the tooth next to the root, and next to the tip.
  double file_root_cents_per_um = 0.0;
  double file_tip_cents_per_um = 0.0;
};

Sensitivity sensitivity(const Tooth& tooth);

// The tooth this many kelvin warmer. Masses stay, lengths grow and the modulus falls; root and
// leads go along, so that every frequency of any tooth changes by the same factor, sqrt((1 +
// steel_modulus_per_k K) (1 + steel_expansion_per_k K)).
Tooth warmed(const Tooth& tooth, double kelvin);

// What that does to the pitch for each kelvin.
double cents_per_k();

}  // namespace combwright::steel
