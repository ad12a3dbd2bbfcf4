// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/design/bench.h"

namespace combwright::steel {

// The tooth of an order on these curves, without its list of modes.
CombTooth tooth_on(const Bench& bench, const CombCurves& curves, const Order& order, int modes);

// The curves on which force and loudness run most evenly while every rule is kept, found from a
// dozen teeth by a pattern search (Hooke and Jeeves) from one fixed start.
CombCurves best_curves(const Bench& bench, const std::vector<Order>& orders);

}  // namespace combwright::steel
