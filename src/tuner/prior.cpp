// SPDX-License-Identifier: Apache-2.0
#include "tuner/prior.h"

#include <cmath>

#include "steel/pitch_spread.h"

namespace combwright::tuner {

Prior prior(const box::Box& box, const box::Shop& shop, std::size_t comb,
            const steel::CombTooth& tooth) {
  const steel::PitchSpread spread = steel::pitch_spread(box, comb, tooth);
  Prior prior{.steel_cents = spread.steel_cents,
              .clips = {.bias_spread = shop.hand.clip_bias, .scatter = shop.hand.clip_scatter},
              .files = {.bias_spread = shop.hand.file_bias, .scatter = shop.hand.file_scatter}};
  if (tooth.leaded()) {
    prior.weight = std::hypot(spread.weight, shop.lead.section_spread);
    if (prior.weight > 0.0) prior.correlation = spread.correlation * spread.weight / prior.weight;
  }
  return prior;
}

}  // namespace combwright::tuner
