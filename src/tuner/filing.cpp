// SPDX-License-Identifier: Apache-2.0
#include "tuner/filing.h"

#include "steel/pluck.h"
#include "steel/strength.h"
#include "tuner/worked.h"

namespace combwright::tuner {

double safety_factor(const box::Box& box, const steel::CombTooth& tooth, const TakenOff& off) {
  const double peak = steel::pluck(worked(tooth, off), tooth.lift_m).peak_root_stress_pa;
  const double strength = box.steel.strength_pa;
  return steel::goodman_factor(
      -peak, peak, steel::endurance_limit_pa(strength, steel::Finish::ground), strength);
}

}  // namespace combwright::tuner
