// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "box/box.h"
#include "steel/comb.h"

namespace combwright::steel {

// How well one tooth's pitch as cut is known before it is heard, by the spreads, their correlation
// and the scatter that the box gives; one standard deviation each.
struct PitchSpread {
  double steel_cents = 0.0;  // by modulus, root, and the tooth's own scatter
  double weight = 0.0;       // of its weight for its size, as a share; 0 without one
  double correlation = 0.0;  // between a sharp steel and a heavy weight
};

PitchSpread pitch_spread(const box::Box& box, std::size_t comb, const CombTooth& tooth);

}  // namespace combwright::steel
