// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/error.h"

namespace combwright {

inline constexpr std::size_t most_csv_columns = 100;

struct CsvRow {
  Place place;  // its first line
  std::vector<std::string> cells;
};

// The rows of a CSV table (RFC 4180): cells between commas; one in quotes keeps its commas and line
// ends, and two quotes in it are one. Beyond that standard a byte order mark is left aside, so are
// blanks around cells, lines without any cell, and a carriage return need not stand before a line
// feed. Throws Error with the row's line: a quote that is not closed or stands inside of a cell,
// more than most_csv_columns.
std::vector<CsvRow> read_csv(std::string_view text, const std::string& name);

}  // namespace combwright
