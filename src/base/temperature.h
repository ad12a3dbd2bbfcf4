// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright {

// At which lengths (ISO 1) and pitches are compared, in degrees Celsius.
inline constexpr double reference_c = 20.0;

}  // namespace combwright
