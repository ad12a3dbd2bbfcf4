// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

namespace combwright::ear {

// Whole samples in so much time.
inline std::size_t samples_in(double seconds, double rate_hz) {
  return static_cast<std::size_t>(seconds * rate_hz);
}

}  // namespace combwright::ear
