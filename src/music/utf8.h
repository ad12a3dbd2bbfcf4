// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace combwright::music {

// Length of the UTF-8 sequence that the text begins with; 0 if it begins with none, or is empty
// (RFC 3629: shortest form, no surrogates, up to U+10FFFF).
std::size_t utf8_length(std::string_view text);

bool is_utf8(std::string_view text);

// Adds a code point, at most U+10FFFF.
void append_utf8(std::string& out, std::uint32_t code);

// ISO 8859-1, whose 256 characters are the first of Unicode.
std::string latin1_to_utf8(std::string_view bytes);

}  // namespace combwright::music
