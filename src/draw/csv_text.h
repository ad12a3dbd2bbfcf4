// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace combwright::draw {

// Free text as a cell of CSV (RFC 4180): always in quotes, so that commas, quotes and line ends are
// of the text. An apostrophe goes before what a table calculator would take for a formula.
std::string csv_text(std::string_view text);

}  // namespace combwright::draw
