// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "box/keys.h"
#include "box/setting.h"

namespace combwright::box {

// One key of a box text as a form shows it, whether the text gives it or not.
struct Field {
  const KeyInfo* key = nullptr;  // of box_schema()
  std::size_t row = 0;
  // As field_text() has it. None for a key that must be given and is not, or that is derived from
  // what can't be read.
  std::optional<std::string> value;
  std::optional<Source> source;  // none for a key that must be given and is not
  // What the value is, or would be, without the text's own; none where it must be given.
  std::optional<std::string> otherwise;
  std::size_t first_line =
      0;  // that it takes in the text, from 1; both 0 if it does not stand there
  std::size_t last_line = 0;
};

struct BoxFields {
  std::vector<Field> fields;  // section by section, row by row, in the order of the table
  std::vector<std::size_t> section_lines;  // of the headers, with their names
  std::vector<std::string> section_names;

  // What stands on that line: "disc.diameter", "comb 2.offset", for a header "disc"; empty for
  // nothing.
  std::string at_line(std::size_t line) const;
};

// Every key of the box, of a text that need not be a right one: it is enough that it is TOML.
// Throws Error with line and column if it is not. `file` stands in errors.
BoxFields box_fields(std::string_view text, const std::string& file);

}  // namespace combwright::box
