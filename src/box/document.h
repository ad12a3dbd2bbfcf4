// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/error.h"

namespace combwright::box {

// A value of another kind than ours (a date, a table, a list in a list), with its name for
// messages: "a date".
struct Unusable {
  std::string kind;
};

struct Item {
  Place place;
  Place end;  // just past it
  std::variant<std::string, std::int64_t, double, bool, Unusable> value;
};

// "section.key = value"; a list is several items, everything else is one.
struct Entry {
  std::string section;  // empty before the first section
  std::size_t row = 0;  // among sections of the same name, for [[section]]
  std::string key;
  Place place;  // of the key
  Place value_place;
  Place value_end;  // just past the value
  bool is_list = false;
  std::vector<Item> items;
};

struct Section {
  std::string name;
  Place place;
  bool repeated = false;  // written [[name]]
};

// A TOML file of plain sections, taken apart in the order of the file.
struct Document {
  std::vector<Section> sections;
  std::vector<Entry> entries;
};

// No box or shop file is larger; a list has at most so many items.
inline constexpr std::size_t max_document_bytes = std::size_t{1} << 20;
inline constexpr std::size_t max_line_bytes = 1000;
inline constexpr std::size_t max_items = 400;

// Throws Error with line and column if the text is not TOML 1.0, is too large or is nested deeper
// than section, key and list. `name` stands in errors.
Document parse_document(std::string_view text, const std::string& name);

// What a value is, for messages: "a bare number", "text", "a list".
std::string describe(const Item& item);

}  // namespace combwright::box
