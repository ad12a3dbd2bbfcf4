// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/finding.h"
#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"
#include "tuner/prior.h"
#include "tuner/reading.h"
#include "tuner/worked.h"

// What to take off a tooth next, from every reading of it so far. docs/tuning.md tells how.
namespace combwright::tuner {

// Which tooth: the combs of a box as designed, and the place of comb and tooth in them.
struct ToothOf {
  const box::Box& box;
  const box::Shop& shop;
  const std::vector<steel::CombDesign>& designs;
  std::size_t comb = 0;
  std::size_t tooth = 0;
};

struct Request {
  double risk = 0.005;            // greatest chance of going sharp beyond the tolerance
  std::optional<double> pair_hz;  // pitch of the other tooth of the pair, at 20 C
  bool doubtful = false;          // the last recording: nothing may be taken off by it
};

struct Advice {
  std::optional<Work> work;   // nothing: stop
  double amount_m = 0.0;      // to clip off the weight's tip end, or to file off the thickness
  double mass_kg = 0.0;       // of that
  Stretch place;              // from the root, of what is filed
  double expect_cents = 0.0;  // median, above the target
  double overshoot_probability = 0.0;  // of ending sharp beyond the tolerance
  double safety_factor = 0.0;          // after filing; 0 else
  double more_cuts = 0.0;              // to expect, this one counted; 0 when stopped
};

// A value with one standard deviation.
struct Known {
  double value = 0.0;
  double spread = 0.0;
};

struct Tuning {
  double measured_hz = 0.0;       // last, at the comb's temperature
  double target_hz = 0.0;         // at that; by the pair's other tooth if its pitch is given
  double offset_cents = 0.0;      // of the last reading from the target
  Known known_cents;              // of the tooth, by all readings
  Known weight;                   // its true weight for its length to the design's; 1 without one
  Known hand;                     // what is clipped to what was told
  double weight_left_m = 0.0;     // the likeliest length; 0 without one
  std::optional<double> beat_hz;  // with the pair's other tooth; sharper is above 0
  std::optional<double> target_beat_hz;  // the same in tune
  Advice advice;
  Findings findings;
};

// At least one reading. Throws Error for one that is over an octave from the target.
Tuning tune(const ToothOf& tooth, const std::vector<Reading>& readings,
            const Request& request = {});

}  // namespace combwright::tuner
