// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <numbers>

namespace combwright::tuner {

// The standard normal distribution function.
inline double normal(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

}  // namespace combwright::tuner
