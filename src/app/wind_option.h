// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "motor/motor.h"

namespace combwright::app {

// The state of the wind that --wind names; nothing if it is not given (empty). Throws Error that
// says what would be right.
std::optional<motor::WindState> wind_of(const std::string& word);

}  // namespace combwright::app
