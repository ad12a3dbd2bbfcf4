// SPDX-License-Identifier: Apache-2.0
#include "base/csv.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/text.h"

namespace combwright {
namespace {

// What is left of the text, and the line that it begins on.
struct Rest {
  std::string_view text;
  std::size_t line = 1;

  char take() {
    const char letter = text.front();
    text.remove_prefix(1);
    if (letter == '\n') ++line;
    return letter;
  }
};

void skip_blanks(Rest& rest) {
  while (!rest.text.empty() &&
         (rest.text.front() == ' ' || rest.text.front() == '\t' || rest.text.front() == '\r'))
    rest.take();
}

// From behind its opening quote to behind its closing one.
std::string quoted_cell(Rest& rest, const Place& place) {
  std::string cell;
  while (!rest.text.empty()) {
    const char letter = rest.take();
    if (letter != '"') {
      cell += letter;
    } else if (!rest.text.empty() && rest.text.front() == '"') {
      cell += rest.take();
    } else {
      return cell;
    }
  }
  throw Error(place, "a quote is opened and not closed; close it, or write two quotes for one");
}

std::string cell_of(Rest& rest, const Place& place) {
  skip_blanks(rest);
  const bool quoted = !rest.text.empty() && rest.text.front() == '"';
  if (quoted) {
    rest.take();
    std::string cell = quoted_cell(rest, place);
    skip_blanks(rest);
    if (!rest.text.empty() && rest.text.front() != ',' && rest.text.front() != '\n')
      throw Error(place, "has text behind a quote; close the quote at the end of its cell");
    return std::string(trimmed(cell));
  }
  const std::size_t end = std::min(rest.text.find_first_of(",\n"), rest.text.size());
  const std::string_view cell = trimmed(rest.text.substr(0, end));
  if (cell.find('"') != std::string_view::npos)
    throw Error(place,
                "has a quote inside of a cell; put the whole cell in quotes, and write two "
                "quotes for one");
  rest.text.remove_prefix(end);
  return std::string(cell);
}

}  // namespace

std::vector<CsvRow> read_csv(std::string_view text, const std::string& name) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  std::vector<CsvRow> rows;
  for (Rest rest{text}; !rest.text.empty();) {
    CsvRow row{.place = {.file = name, .line = rest.line}, .cells = {}};
    do {
      if (row.cells.size() == most_csv_columns)
        throw Error(row.place, fmt::format("has over {} columns", most_csv_columns));
      row.cells.push_back(cell_of(rest, row.place));
    } while (!rest.text.empty() && rest.take() == ',');
    if (row.cells.size() > 1 || !row.cells.front().empty()) rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace combwright
