// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"

namespace combwright::tuner {

// Of one kind of cuts: exp(bias + its own scatter) times what was told is taken off.
struct Habit {
  double bias = 0.0;         // natural logarithm
  double bias_spread = 0.0;  // one standard deviation of that
  double scatter = 0.0;      // one standard deviation
};

// What is known of a tooth before it is heard; normal, one standard deviation each.
struct Prior {
  double steel_cents = 0.0;  // of its pitch by steel, root, and the tooth's own scatter
  double weight = 0.0;       // of the logarithm of its weight for its length
  double correlation = 0.0;  // between the two
  Habit clips;
  Habit files;
};

// By the spreads that box and shop give.
Prior prior(const box::Box& box, const box::Shop& shop, std::size_t comb,
            const steel::CombTooth& tooth);

}  // namespace combwright::tuner
