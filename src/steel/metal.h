// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"

namespace combwright::steel {

struct Metal {
  double modulus_pa = 0.0;
  double density_kg_m3 = 0.0;
  double poisson_ratio = 0.0;
};

// Carbon spring steel, hardened and tempered. Modulus: 190 to 215 GPa in amesweb.info's table of
// steels, the middle of the range for spring steels taken; density and Poisson's ratio: ferrous
// table of mem50212.com.
inline constexpr Metal spring_steel{205e9, 7850.0, 0.29};

// Pure lead; modulus and density from memory. Poisson's ratio is that of lead with 2 % tin
// (makeitfrom.com, Pb98Sn2).
inline constexpr Metal lead_metal{16e9, 11340.0, 0.44};

// Lengths of spring steel grow by this share for each kelvin (text-book value, from memory).
inline constexpr double steel_expansion_per_k = 11.5e-6;

// The modulus of spring steel changes by this share for each kelvin near room temperature.
// From the rate of watches with steel hairsprings on plain brass balances, 11 s a day for each
// kelvin (D. Boettcher, "Nickel Steel Balance Spring"); Roark's table of moduli has -2.53e-4 below
// 21 C.
inline constexpr double steel_modulus_per_k = -2.5e-4;

// The metals of a box file. The steel is that at the given temperature.
Metal metal(const box::Steel& steel, double temperature_c = 20.0);
Metal metal(const box::Lead& lead);

}  // namespace combwright::steel
