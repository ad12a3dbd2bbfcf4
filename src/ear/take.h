// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "base/finding.h"
#include "ear/pluck.h"

// A whole comb plucked tooth after tooth in one recording.
namespace combwright::ear {

// What a tooth may sound at: from as it was cut to its target, or a little beyond.
struct ExpectedTooth {
  double low_hz = 0.0;
  double high_hz = 0.0;
};

struct TakenTooth {
  std::optional<HeardPluck> pluck;  // nothing if it is missing; one not sure is doubtful
};

struct Take {
  std::vector<TakenTooth> teeth;  // as expected
  bool backwards = false;         // plucked from the last tooth to the first
  std::vector<HeardPluck> extra;  // plucks of no tooth
  // A fault if no tooth was heard, or fewer than half of them: then it may be another comb.
  Findings findings;
};

// The teeth as they were plucked, in order from either end, each once. Plucks go to teeth so that
// they lie as near as can be to what is expected, at a price for each tooth left out and each pluck
// left over (dynamic programming: Needleman and Wunsch, J. Mol. Biol. 48, 1970).
Take hear_take(std::span<const double> samples, double rate_hz,
               const std::vector<ExpectedTooth>& expected);

}  // namespace combwright::ear
