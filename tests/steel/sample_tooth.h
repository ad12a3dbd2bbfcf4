// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "steel/modes.h"
#include "steel/tooth.h"

namespace combwright::steel {

// The tooth that most published figures are worked out for here: 30 x 2 x 1 mm.
inline Tooth sample_tooth(Theory theory = Theory::thin) {
  Tooth tooth = plain_tooth(0.03, 0.002, 0.001, 0.001);
  tooth.theory = theory;
  return tooth;
}

inline constexpr double sample_mass_kg = 471e-6;

// E I at the root over the length: the unit of root stiffness.
inline double root_unit_n_m(const Tooth& tooth) {
  const Section& root = tooth.sections.front();
  return tooth.steel.modulus_pa * root.root_width_m * std::pow(root.root_thickness_m, 3.0) / 12.0 /
         length_m(tooth);
}

// (2 pi f)^2 m L^4 / E I = lambda^4 for the section at the root.
inline std::vector<double> lambdas(const Tooth& tooth, int count = 4) {
  const double length = length_m(tooth);
  const double thickness = tooth.sections.front().root_thickness_m;
  const double unit = thickness / (length * length) *
                      std::sqrt(tooth.steel.modulus_pa / (12.0 * tooth.steel.density_kg_m3));
  std::vector<double> result;
  for (const Mode& mode : modes(tooth, count))
    result.push_back(std::sqrt(2.0 * std::numbers::pi * mode.frequency_hz / unit));
  return result;
}

}  // namespace combwright::steel
