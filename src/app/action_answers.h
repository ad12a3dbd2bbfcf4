// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "action/action.h"
#include "action/passage.h"
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
  double turn_time_s = 0.0;
  std::vector<action::TrackAction> tracks;
  std::vector<action::Passage> passages;
  std::vector<std::vector<double>> air_m;  // of each comb and track, as action::airs_m
  action::WheelAction wheel;
  std::optional<ToleranceJob> tolerances;
  Findings findings;
};

// The two answers of `action`.
Json to_json(const box::Box& box, const box::Shop& shop, const ActionJob& job);
std::string action_text(const box::Box& box, const box::Shop& shop, const ActionJob& job);

}  // namespace combwright::app
