// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "box/edit_text.h"

namespace combwright::box {

// The edits that give a box file every key that these lines of one have: "[spring]\nturns_used =
// 5", a repeated section in the order of its rows. Throws Error if they are no TOML or a key of
// theirs is none of a box. `file` stands in errors.
std::vector<KeyEdit> edits_of(std::string_view lines, const std::string& file);

}  // namespace combwright::box
