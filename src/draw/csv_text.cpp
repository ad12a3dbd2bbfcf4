// SPDX-License-Identifier: Apache-2.0
#include "draw/csv_text.h"

namespace combwright::draw {

std::string csv_text(std::string_view text) {
  constexpr std::string_view formula_begins = "=+-@\t\r";
  std::string cell = "\"";
  if (!text.empty() && formula_begins.find(text.front()) != std::string_view::npos) cell += '\'';
  for (const char letter : text) {
    cell += letter;
    if (letter == '"') cell += letter;
  }
  return cell + "\"";
}

}  // namespace combwright::draw
