// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "action/survey.h"
#include "action/tolerance.h"
#include "app/json.h"
#include "base/finding.h"
#include "box/box.h"
#include "box/shop.h"

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

// The two answers of `action`.
Json to_json(const box::Box& box, const box::Shop& shop, const ActionJob& job);
std::string action_text(const box::Box& box, const box::Shop& shop, const ActionJob& job);

}  // namespace combwright::app
