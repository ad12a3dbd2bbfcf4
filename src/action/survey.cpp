// SPDX-License-Identifier: Apache-2.0
#include "action/survey.h"

namespace combwright::action {

Survey survey(const box::Box& box, const std::vector<std::vector<double>>& stiffness_n_m,
              double turn_time_s) {
  Survey result{.turn_time_s = turn_time_s,
                .wheel = wheel_action(box),
                .tracks = action(box, turn_time_s),
                .passages = {},
                .air_m = airs_m(box),
                .findings = {}};
  if (!stiffness_n_m.empty()) result.passages = passages(box, stiffness_n_m, turn_time_s);
  const Findings geometry = findings(box, result.tracks);
  const Findings forces = findings(box, result.passages);
  result.findings = merged({&geometry, &forces});
  return result;
}

}  // namespace combwright::action
