// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cassert>
#include <cmath>

namespace combwright {

// An interval from the ratio of its frequencies, above 0: 1200 log2 (definition).
inline double cents(double ratio) {
  assert(ratio > 0.0);
  return 1200.0 * std::log2(ratio);
}

}  // namespace combwright
