// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "base/quantity.h"

namespace combwright::app {

// The quantity that an option gives, nothing if it is not given (empty). Throws Error that names
// the option and the units that would do.
std::optional<double> option_quantity(const std::string& name, const std::string& text,
                                      Dimension dimension);

}  // namespace combwright::app
