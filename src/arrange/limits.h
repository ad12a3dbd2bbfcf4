// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// "At most `capacity` plucks here": over a span of time on all teeth (the motor), or over a span on
// tooth k and the same span, shifted, on tooth k + 1 (the sheet between two tracks). Every
// arrangement under the problem's rules keeps all of them.
struct Capacity {
  static constexpr int all_teeth = -1;

  int tooth = all_teeth;  // k
  double begin_s = 0.0;   // on tooth k
  double end_s = 0.0;     // included
  double shift_s = 0.0;   // of the span on tooth k + 1
  int capacity = 1;

  bool concerns(int pluck_tooth) const;

  // The span on a tooth that it concerns.
  double begin_on(int pluck_tooth) const;
  double end_on(int pluck_tooth) const;
};

// The capacities that the choices break: for the motor spans that begin, end and are centred with
// the breach, for the sheet one centred on it.
std::vector<Capacity> broken_capacities(const Problem& problem, const std::vector<Choice>& choices);

// Takes back the cheapest plucks until no limit is broken. `value` is what each demand earns now.
void drop_breaches(const Problem& problem, const std::vector<double>& value,
                   std::vector<Choice>& choices);

}  // namespace combwright::arrange
