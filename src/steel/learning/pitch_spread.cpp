// SPDX-License-Identifier: Apache-2.0
#include "steel/pitch_spread.h"

#include <cmath>

#include "steel/learning/unknowns.h"

namespace combwright::steel {

PitchSpread pitch_spread(const box::Box& box, std::size_t comb, const CombTooth& tooth) {
  const Unknowns unknowns = unknowns_of(box);
  Vector slope = slopes_cents(tooth, comb, unknowns, unknowns.before);
  slope[unknowns.density()] = 0.0;
  const Vector with = unknowns.correlation * slope;
  const double scatter = box.learnt.scatter_cents;
  PitchSpread spread{.steel_cents = std::sqrt(slope.dot(with) + scatter * scatter)};
  if (tooth.leaded()) {
    spread.weight = unknowns.spread[unknowns.density()];
    if (spread.steel_cents > 0.0)
      spread.correlation = with[unknowns.density()] / spread.steel_cents;
  }
  return spread;
}

}  // namespace combwright::steel
