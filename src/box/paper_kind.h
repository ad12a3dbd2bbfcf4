// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

namespace combwright::box {

// Whether a text is a shop file and no box file: it has a section that only a shop has. What else
// is in it, right or wrong, does not matter.
bool is_shop_file(std::string_view text);

}  // namespace combwright::box
