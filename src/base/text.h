// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <charconv>
#include <cstddef>
#include <optional>
#include <string_view>
#include <system_error>

namespace combwright {

// The text without blanks, tabs and line ends around it.
std::string_view trimmed(std::string_view text);

// One of 0 to 9, whatever the locale.
constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// The number that the whole text is, as std::from_chars reads it (no blanks, no leading +),
// whatever the locale; nothing if it is none or out of the type's range.
template <typename Number>
std::optional<Number> parse_number(std::string_view text) {
  Number value{};
  const char* const end = text.data() + text.size();
  const auto [stop, problem] = std::from_chars(text.data(), end, value);
  if (problem != std::errc() || stop != end) return std::nullopt;
  return value;
}

// How many letters UTF-8 text has, as editors count columns: continuation bytes are none.
std::size_t letters(std::string_view text);

}  // namespace combwright
