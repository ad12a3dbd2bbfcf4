// SPDX-License-Identifier: Apache-2.0
#include "tuner/filing.h"

#include <algorithm>

#include "steel/pluck.h"
#include "steel/strength.h"
#include "tuner/worked.h"

namespace combwright::tuner {

double safety_factor(const box::Box& box, const steel::CombTooth& tooth, const TakenOff& off) {
  const double peak = steel::pluck(worked(tooth, off), tooth.lift_m).peak_root_stress_pa;
  const double strength = box.steel.strength_pa;
  return steel::goodman_factor(-peak, peak,
                               steel::endurance_limit_pa(strength, steel::Finish::ground), strength);
}

double thinnest_m(const steel::CombTooth& tooth, const TakenOff& off) {
  const steel::Tooth left = worked(tooth, off);
  double least = left.sections.front().root_thickness_m;
  for (const steel::Section& section : left.sections)
    least = std::min({least, section.root_thickness_m, section.tip_thickness_m});
  return least;
}

}  // namespace combwright::tuner
