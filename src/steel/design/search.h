// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/watch.h"
#include "steel/design/bench.h"

namespace combwright::steel {

// The tooth of an order on these curves, without its list of modes.
CombTooth tooth_on(const Bench& bench, const CombCurves& curves, const Order& order, int modes);

// The comb's own lines if it has them. Otherwise the curves on which force and loudness run most
// evenly while every rule is kept, by a pattern search (Hooke and Jeeves) over a dozen teeth from
// three fixed starts; where teeth break rules there, a second one over all teeth. Rounded so that
// box::Comb::lines holds them exactly. Throws Cancelled if stopped.
CombCurves best_curves(const Bench& bench, const std::vector<Order>& orders,
                       const Watch& watch = {});

}  // namespace combwright::steel
