// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

namespace combwright::app {

// The value of --temperature; nothing if it is empty. Throws Error if it is no temperature, or none
// that a musical box has.
std::optional<double> temperature_option(const std::string& text);

}  // namespace combwright::app
