// SPDX-License-Identifier: Apache-2.0
#include "box/document.h"

#include <algorithm>

#include <fmt/format.h>

#include "box/slip.h"

// The parser is compiled in, not taken from its shared library, because its limit on nesting is
// set at compile time: together with the limit on the length of a line it bounds the depth of
// recursion on hostile input.
#undef TOML_HEADER_ONLY
#undef TOML_SHARED_LIB
#define TOML_HEADER_ONLY 1
#define TOML_MAX_NESTED_VALUES 8
#include <toml++/impl/preprocessor.h>
// Version 3.3 asserts that a section's name begins as a key before it reports that it does not
// ("[{a]"), and hands the same assertion to clang as something to build on.
#undef TOML_ASSERT
#undef TOML_ASSERT_ASSUME
#define TOML_ASSERT(expr) static_assert(true)
#define TOML_ASSERT_ASSUME(expr) static_assert(true)
#include <toml++/impl/forward_declarations.h>
// It also calls the answer "no" to whether a letter such as U+02A4 is a blank unreachable.
#undef TOML_UNREACHABLE
#define TOML_UNREACHABLE return false
#include <toml++/impl/unicode.h>
#undef TOML_UNREACHABLE
#define TOML_UNREACHABLE __builtin_unreachable()
#include <toml++/toml.h>

namespace combwright::box {
namespace {

class Flattener {
 public:
  explicit Flattener(const std::string& name) : name_(name) {}

  Document flatten(const toml::table& root) {
    for (const auto& [key, node] : root) {
      if (const toml::table* section = node.as_table())
        take_section(key, *section);
      else if (const toml::array* rows = node.as_array(); rows && holds_tables(*rows))
        take_rows(key, *rows);
      else
        take_entry("", 0, key, node);
    }
    in_file_order();
    return std::move(document_);
  }

 private:
  Place at(const toml::source_position& position) const {
    Place place{.file = name_};
    if (position.line > 0) place.line = position.line;
    if (position.column > 0) place.column = position.column;
    return place;
  }
  Place at(const toml::node& node) const { return at(node.source().begin); }
  Place after(const toml::node& node) const { return at(node.source().end); }
  Place at(const toml::key& key) const { return at(key.source().begin); }

  static bool holds_tables(const toml::array& array) {
    return !array.empty() &&
           std::all_of(array.begin(), array.end(), [](const auto& n) { return n.is_table(); });
  }

  void take_section(const toml::key& name, const toml::table& section) {
    document_.sections.push_back({.name = std::string(name.str()), .place = at(section)});
    take_entries(name, section, 0);
  }

  void take_entries(const toml::key& name, const toml::table& section, std::size_t row) {
    for (const auto& [key, node] : section) take_entry(std::string(name.str()), row, key, node);
  }

  void take_rows(const toml::key& name, const toml::array& rows) {
    if (rows.size() > max_items)
      throw Error(at(name), fmt::format("{} has {} rows; at most {} are read", name.str(),
                                        rows.size(), max_items));
    for (std::size_t row = 0; row < rows.size(); ++row) {
      document_.sections.push_back(
          {.name = std::string(name.str()), .place = at(rows[row]), .repeated = true});
      take_entries(name, *rows[row].as_table(), row);
    }
  }

  void take_entry(const std::string& section, std::size_t row, const toml::key& key,
                  const toml::node& node) {
    Entry entry{.section = section,
                .row = row,
                .key = std::string(key.str()),
                .place = at(key),
                .value_place = at(node),
                .value_end = after(node),
                .is_list = node.is_array(),
                .items = {}};
    if (const toml::array* list = node.as_array()) {
      if (list->size() > max_items)
        throw Error(entry.value_place, fmt::format("{} has {} items; at most {} are read",
                                                   entry.key, list->size(), max_items));
      for (const toml::node& item : *list) entry.items.push_back(take_item(item));
    } else {
      entry.items.push_back(take_item(node));
    }
    document_.entries.push_back(std::move(entry));
  }

  Item take_item(const toml::node& node) const {
    Item item{.place = at(node), .end = after(node), .value = Unusable{"a date or time"}};
    if (const auto* text = node.as_string()) item.value = text->get();
    if (const auto* integer = node.as_integer()) item.value = integer->get();
    if (const auto* real = node.as_floating_point()) item.value = real->get();
    if (const auto* truth = node.as_boolean()) item.value = truth->get();
    if (node.is_table()) item.value = Unusable{"a table"};
    if (node.is_array()) item.value = Unusable{"a list"};
    return item;
  }

  // Tables come sorted by key; the first fault to report is the first in the file.
  void in_file_order() {
    const auto before = [](const auto& a, const auto& b) {
      return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
    };
    std::stable_sort(document_.sections.begin(), document_.sections.end(), before);
    std::stable_sort(document_.entries.begin(), document_.entries.end(), before);
  }

  const std::string& name_;
  Document document_;
};

void check_size(std::string_view text, const std::string& name) {
  if (text.size() > max_document_bytes)
    throw Error({.file = name}, fmt::format("is {} bytes long; at most {} MB are read", text.size(),
                                            max_document_bytes >> 20));
  std::size_t line = 1;
  for (std::size_t start = 0; start < text.size(); ++line) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    if (end - start > max_line_bytes) {
      throw Error({.file = name, .line = line, .column = 1},
                  fmt::format("this line has {} bytes; break it, at most {} are read", end - start,
                              max_line_bytes));
    }
    start = end + 1;
  }
}

// The parser's own words speak of its grammar; the usual slips are told in ours.
Error refusal(const toml::parse_error& error, std::string_view text, const std::string& name) {
  const std::string_view reason = error.description();
  const toml::source_position at = error.source().begin;
  const Place place{.file = name, .line = at.line, .column = at.column};
  if (reason.find("cannot redefine") != std::string_view::npos)
    return {place, "this key or section stands in the file before; keep one of the two"};
  if (reason.find("maximum nested") != std::string_view::npos)
    return {place, "lists or tables stand too deep in each other; one list in a key would do"};
  if (reason.find("string: encountered end-of-file") != std::string_view::npos)
    return {place, "a text in three quotes that begins before has no end; close it with three"};
  if (const auto slip = find_slip(text, at.line))
    return {{.file = name, .line = slip->line, .column = slip->column}, slip->message};
  constexpr int longest_reason = 200;
  return {place, fmt::format("is not TOML here: {:.{}}", reason, longest_reason)};
}

}  // namespace

Document parse_document(std::string_view text, const std::string& name) {
  check_size(text, name);
  try {
    return Flattener(name).flatten(toml::parse(text));
  } catch (const toml::parse_error& error) {
    throw refusal(error, text, name);
  }
}

std::string describe(const Item& item) {
  if (std::holds_alternative<std::string>(item.value)) return "text";
  if (std::holds_alternative<bool>(item.value)) return "true or false";
  if (const auto* other = std::get_if<Unusable>(&item.value)) return other->kind;
  return "a bare number";
}

}  // namespace combwright::box
