// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "action/survey.h"
#include "action/tolerance.h"
#include "app/inputs.h"
#include "base/finding.h"
#include "base/watch.h"
#include "box/shop.h"
#include "steel/comb.h"

namespace combwright::app {

// What the tolerances of the workshop do to a box.
struct ToleranceJob {
  std::vector<action::ToothSpread> teeth;
  std::vector<action::Contribution> ranked;
  action::Trials trials;
  action::TrialOptions options;
};

struct ActionJob {
  action::Survey survey;
  std::optional<ToleranceJob> tolerances;
  Findings findings;  // of box, combs and action
};

// The action of a box with its designed combs; with `trials` also what the shop's tolerances do, at
// the turn time of the box.
ActionJob action_job(const BoxInput& input, const box::Shop& shop,
                     const std::vector<steel::CombDesign>& designs,
                     const std::optional<action::TrialOptions>& trials, const Watch& watch = {});

}  // namespace combwright::app
