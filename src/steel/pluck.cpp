// SPDX-License-Identifier: Apache-2.0
#include "steel/pluck.h"

#include <cassert>
#include <cmath>

namespace combwright::steel {

Pluck pluck(const Tooth& tooth, double lift_m, int count) {
  assert(lift_m >= 0.0);
  const Section& root = tooth.sections.front();
  const double section_modulus =
      root.root_width_m * root.root_thickness_m * root.root_thickness_m / 6.0;
  Pluck pluck;
  pluck.force_n = tip_stiffness_n_m(tooth) * lift_m;
  pluck.energy_j = 0.5 * pluck.force_n * lift_m;
  pluck.root_stress_pa = pluck.force_n * length_m(tooth) / section_modulus;
  for (const Mode& mode : modes(tooth, count)) {
    const double amplitude = mode.release_share * lift_m;
    const double stress = mode.root_moment_n * amplitude / section_modulus;
    pluck.modes.push_back({mode.frequency_hz, amplitude, stress});
    pluck.peak_root_stress_pa += std::abs(stress);
  }
  return pluck;
}

}  // namespace combwright::steel
