// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "ear/ring.h"

namespace combwright::ear {

// Where a pluck begins.
struct Beginning {
  std::size_t onset = 0;  // sample at which its rings begin
  std::size_t clean = 0;  // from here on the rings and noise are all there is: the click is over
};

// The likeliest beginning of the rings, which hold from the sample `from` on (their phases count
// from there); the older ones go on through it. The onset lies in `around` give or take
// onset_error_s; nothing else begins between `earliest` and that.
Beginning find_beginning(std::span<const double> samples, double rate_hz,
                         const std::vector<Ring>& rings,
                         const std::vector<std::optional<bool>>& older, std::size_t from,
                         std::size_t around, std::size_t earliest);

}  // namespace combwright::ear
