// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <numbers>

namespace combwright {

// One turn, in radians.
inline constexpr double two_pi = 2.0 * std::numbers::pi;

}  // namespace combwright
