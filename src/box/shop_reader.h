// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "box/shop.h"

namespace combwright::box {

// Reads the workshop's own TOML file by the same rules as a box. Throws Error with line and column.
Shop read_shop(std::string_view text, const std::string& name);

}  // namespace combwright::box
