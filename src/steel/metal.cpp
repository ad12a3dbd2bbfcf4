// SPDX-License-Identifier: Apache-2.0
#include "steel/metal.h"

namespace combwright::steel {

Metal metal(const box::Steel& steel) {
  return {steel.modulus_pa, steel.density_kg_m3, steel.poisson_ratio};
}

Metal metal(const box::Lead& lead) {
  return {lead.modulus_pa, lead.density_kg_m3, lead_metal.poisson_ratio};
}

}  // namespace combwright::steel
