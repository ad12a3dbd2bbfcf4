// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

namespace combwright::action {

// Leaves of a feeler gauge put together give every such step (common practice, no source).
inline constexpr double feeler_step_m = 5e-5;

// A gap as a feeler gauge can set it: the next step below, so that the damper touches no later.
inline double feeler_m(double gap_m) {
  constexpr double same = 1e-9;
  return std::floor((gap_m + same) / feeler_step_m) * feeler_step_m;
}

}  // namespace combwright::action
