// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/finding.h"
#include "ear/pluck.h"

namespace combwright::ear {

// How to listen.
struct Listening {
  std::optional<double> near_hz;  // the pitch that the tooth should have, roughly
  bool pair = false;              // two teeth are plucked at once
  bool take = false;              // tooth after tooth: two of one note in quick turn are two plucks
};

struct Heard {
  std::vector<HeardPluck> plucks;  // in the order of time
  Findings findings;               // of the recording as a whole; a fault if nothing was heard
};

// Every pluck of one channel of a recording (full scale 1). What is known of a pitch holds for the
// tooth as it was, at the temperature that it had, by the recorder's clock.
Heard hear(std::span<const double> samples, double rate_hz, const Listening& how);

// The pluck to believe, by place: of those that are sure, else of those whose beginning was heard,
// the loudest. Nothing if there is none.
std::optional<std::size_t> surest(const std::vector<HeardPluck>& plucks);

}  // namespace combwright::ear
