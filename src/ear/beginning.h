// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "ear/ring.h"

namespace combwright::ear {

// Where a pluck begins, and what rang before.
struct Beginning {
  std::size_t onset = 0;    // sample at which its rings begin
  std::size_t clean = 0;    // from here on the rings and noise are all there is: the click is over
  std::vector<bool> older;  // of each ring: it rang before, and goes on undisturbed
  bool heard_before = false;  // enough was recorded before the onset to tell `older`
};

// The likeliest beginning of the rings, which hold from the sample `from` on (their phases count
// from there). The onset lies in `around` give or take onset_error_s; nothing else begins between
// `earliest` and that.
Beginning find_beginning(std::span<const double> samples, double rate_hz,
                         const std::vector<Ring>& rings, std::size_t from, std::size_t around,
                         std::size_t earliest);

}  // namespace combwright::ear
