// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/finding.h"
#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"
#include "tuner/inference/posterior.h"
#include "tuner/tune.h"

namespace combwright::tuner {

// What is asked of the advice.
struct Wish {
  double tolerance_cents = 2.0;
  double smallest_clip_kg = 1e-6;
  double thinnest_m = 0.0;
  double safety_factor = 1.0;
  double risk = 0.005;  // chance of going sharp beyond the tolerance
};

Wish wish(const box::Shop& shop, const box::Comb& comb);

// The advice for a tooth of a box as it is known, and what stands in the way.
Advice advise(const box::Box& box, const steel::CombTooth& tooth, const Posterior& known,
              const Wish& wish, Findings& findings, const std::string& where);

}  // namespace combwright::tuner
