// SPDX-License-Identifier: Apache-2.0
#include "steel/metal.h"

namespace combwright::steel {

Metal metal(const box::Steel& steel, double temperature_c) {
  const double warmer_k = temperature_c - 20.0;
  const double longer = 1.0 + steel_expansion_per_k * warmer_k;
  return {steel.modulus_pa * (1.0 + steel_modulus_per_k * warmer_k),
          steel.density_kg_m3 / (longer * longer * longer), steel.poisson_ratio};
}

Metal metal(const box::Lead& lead) {
  return {lead.modulus_pa, lead.density_kg_m3, lead_metal.poisson_ratio};
}

}  // namespace combwright::steel
