// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "box/keys.h"

namespace combwright::box {

// A value for a key, as field_text() has it; none takes the key out of the file. A row is the place
// of its section among the repeated ones, one past the last for a new one. Without a name and a
// value the whole row goes.
struct KeyEdit {
  std::string section;
  std::size_t row = 0;
  std::string name;
  std::optional<std::string> value;
};

// The text of a file with the edits made one after the other and every other byte as it was:
// comments, order, blanks, line breaks. What is new stands where its key stands in the table, in a
// new section if there is none. Comments within a list stay beside the items that stay. Each value
// must be one that its key takes; the box as a whole need not be right. Throws Error if it is not,
// if the text is no TOML, or if the file is laid out so that only a hand can change it. `file`
// stands in errors.
std::string edit_text(std::string_view text, const std::string& file,
                      const std::vector<SectionInfo>& sections, const std::vector<KeyInfo>& keys,
                      const std::vector<KeyEdit>& edits);

}  // namespace combwright::box
