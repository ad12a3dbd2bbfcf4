// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace combwright::draw {

// Names of boxes and tunes come from files: these functions make any bytes fit to be drawn.

// The text on one line: valid UTF-8 (bad bytes become U+FFFD), control and direction marks taken
// out, white space closed up, cut to `most_letters` code points with an ellipsis as the last.
std::string label(std::string_view text, std::size_t most_letters = 80);

// Two hyphens by themselves, which typists put for a dash, as a dash (U+2013): for print. The names
// in data files stay as they are.
std::string dashed(std::string_view utf8);

// The code points of valid UTF-8.
std::u32string code_points(std::string_view utf8);

// The label in printable ASCII: letters lose their accents, what has no Latin form becomes '?'.
std::string ascii(std::string_view text, std::size_t most_letters = 80);

}  // namespace combwright::draw
