// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/design/bench.h"

namespace combwright::steel {

// A tooth as drawn by the curves, before it is fitted to its pitch.
struct Blank {
  double length_m = 0.0;
  double thickness_m = 0.0;  // at the root
  double taper = 1.0;
};

// The tooth for an order. It gets a lead if the blank is sharp and a lead can be cut finely enough;
// if not, it is ground to a thickness of its own, unless that would stray from the smooth line.
// Where neither reaches the pitch, `in_tune` is as near as it comes.
CombTooth fitted(const Bench& bench, const Order& order, const Blank& blank);

// Fills in all that follows from the two teeth: forces, stresses, modes. `modes` counts those that
// the ring stress is summed over.
void measure(const Bench& bench, CombTooth& tooth, int modes);

// Shortest lead that is left on a tooth in tune.
inline constexpr double least_lead_m = 5e-4;

}  // namespace combwright::steel
