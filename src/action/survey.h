// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "action/action.h"
#include "action/passage.h"
#include "base/finding.h"
#include "box/box.h"

namespace combwright::action {

// The whole action of a box.
struct Survey {
  double turn_time_s = 0.0;
  WheelAction wheel;
  std::vector<TrackAction> tracks;
  std::vector<Passage> passages;           // of each track, or none
  std::vector<std::vector<double>> air_m;  // of each comb and track, as airs_m
  Findings findings;                       // all that is to be looked at
};

// `stiffness_n_m` as for passages(); where the combs are not designed it is empty, and there are no
// passages and nothing is found of their forces.
Survey survey(const box::Box& box, const std::vector<std::vector<double>>& stiffness_n_m,
              double turn_time_s);

}  // namespace combwright::action
