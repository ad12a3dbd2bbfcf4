// SPDX-License-Identifier: Apache-2.0
#include "app/action_job.h"

#include <utility>

#include "app/comb_job.h"

namespace combwright::app {

ActionJob action_job(const BoxInput& input, const box::Shop& shop,
                     const std::vector<steel::CombDesign>& designs,
                     const std::optional<action::TrialOptions>& trials, const Watch& watch) {
  const box::Box& box = input.box;
  const double turn_time_s = box.motor.turn_time_s;
  ActionJob job{.survey = action::survey(box, steel::tip_stiffness_n_m(designs), turn_time_s),
                .tolerances = std::nullopt,
                .findings = {}};
  const Findings combs = to_look_at(designs);
  job.findings = merged({&input.findings, &job.survey.findings, &combs});
  if (trials) {
    ToleranceJob tolerance{.options = *trials};
    tolerance.teeth = action::first_order(box, shop.action_tolerance, turn_time_s);
    tolerance.ranked = action::ranked(tolerance.teeth);
    tolerance.trials = action::trials(box, shop.action_tolerance, turn_time_s, *trials, watch);
    const Findings missed = action::findings(tolerance.trials, tolerance.ranked);
    job.findings.insert(job.findings.end(), missed.begin(), missed.end());
    job.tolerances = std::move(tolerance);
  }
  return job;
}

}  // namespace combwright::app
