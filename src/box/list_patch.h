// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "box/document.h"
#include "box/text_patch.h"

namespace combwright::box {

// Makes the items of a list in a file those of `wanted`, which are written as in `written`. Items
// that stay keep their place and the comments beside them.
void patch_list(TextPatch& patch, std::string_view text, const Entry& list,
                const std::vector<Item>& wanted, const std::vector<std::string>& written);

// Whether two items mean the same, wherever they stand.
bool same_value(const Item& a, const Item& b);

}  // namespace combwright::box
