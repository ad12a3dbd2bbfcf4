// SPDX-License-Identifier: Apache-2.0
#include "steel/margin.h"

#include <cmath>

#include <fmt/format.h>

namespace combwright::steel {

Findings margin_findings(const box::Comb& comb, const CutSpread& spread) {
  const double flat = 0.5 * (comb.least_flat_cents + comb.most_flat_cents);
  const double known_to = spread.within_95_cents();
  if (known_to < flat) return {};
  return {{Level::warning, box::comb_words(comb.name),
           fmt::format("it is cut {:.3g} cents flat, but its pitch is known to {:.3g} cents only "
                       "(95 %): some teeth may come off the saw sharp",
                       flat, known_to),
           fmt::format("raise comb.least_flat and comb.most_flat by {:.0f} cents, or cut a few "
                       "teeth first and learn from them",
                       std::ceil(known_to - flat))}};
}

}  // namespace combwright::steel
