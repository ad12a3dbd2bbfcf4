// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string_view>

namespace combwright {

// The text without blanks, tabs and line ends around it.
std::string_view trimmed(std::string_view text);

// How many letters UTF-8 text has, as editors count columns: continuation bytes are none.
std::size_t letters(std::string_view text);

}  // namespace combwright
