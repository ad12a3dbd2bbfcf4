// SPDX-License-Identifier: Apache-2.0
#include "steel/learning/cut_spread.h"

#include <algorithm>
#include <cmath>

#include "steel/learning/unknowns.h"

namespace combwright::steel {

CutSpread cut_spread(const box::Box& box, std::size_t comb, const std::vector<CombTooth>& teeth) {
  const Unknowns unknowns = unknowns_of(box);
  const double scatter = box.learnt.scatter_cents;
  double most = 0.0;
  for (const CombTooth& tooth : teeth) {
    const Vector slope = slopes_cents(tooth, comb, unknowns, unknowns.before);
    most = std::max(most, slope.dot(unknowns.correlation * slope));
  }
  return {std::sqrt(most), std::sqrt(most + scatter * scatter)};
}

}  // namespace combwright::steel
