// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace combwright::music::musicxml {

// The bytes of an XML file as UTF-8 without byte order mark. The bytes decide, not the declaration,
// because files exist that say UTF-16 and are UTF-8: a byte order mark or zero bytes beside the
// first '<' mean UTF-16; text that is not valid UTF-8 is taken for ISO 8859-1.
std::string to_utf8(std::string_view bytes);

// Text for people: valid UTF-8, white space runs as one blank, none at the ends, at most
// `max_bytes` long.
std::string clean(std::string_view text, std::size_t max_bytes = 200);

// A finite decimal number, white space around it allowed; nothing otherwise.
std::optional<double> parse_number(std::string_view text);

// A whole number, white space around it allowed; nothing otherwise.
std::optional<int> parse_whole(std::string_view text);

}  // namespace combwright::music::musicxml
