// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace combwright::box {

// A slip of the pen in a TOML file: where it is, from 1, and what would be right.
struct Slip {
  std::size_t line = 0;
  std::size_t column = 0;
  std::string message;
};

// What was most likely meant on the line where a TOML parser stopped, in a maker's words: quotes
// that are missing, a list without its end, a decimal comma, a key given twice. `line` counts from
// 1. Nothing if the line shows none of the usual slips.
std::optional<Slip> find_slip(std::string_view text, std::size_t line);

}  // namespace combwright::box
