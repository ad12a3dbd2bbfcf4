// SPDX-License-Identifier: Apache-2.0
#include "box/value_text.h"

#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include "base/text.h"
#include "box/key_value.h"

namespace combwright::box {
namespace {

// Texts that may hold commas stand on lines of their own.
bool by_lines(Kind kind) {
  return kind == Kind::notes || kind == Kind::stroke;
}

std::string item_text(const Item& item) {
  if (const auto* text = std::get_if<std::string>(&item.value)) return *text;
  if (const auto* integer = std::get_if<std::int64_t>(&item.value))
    return fmt::format("{}", *integer);
  if (const auto* real = std::get_if<double>(&item.value)) return fmt::format("{}", *real);
  return describe(item);
}

// As a basic string of TOML 1.0.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (byte < 0x20 || byte == 0x7f)
      out += fmt::format("\\u{:04X}", byte);
    else
      out += c;
  }
  return out + '"';
}

std::string integer_text(const KeyInfo& key, std::string_view field, const Place& place) {
  const auto integer = parse_number<std::int64_t>(field);
  if (!integer)
    refuse(place, key, fmt::format(R"(is "{}"; write a whole number)", field.substr(0, 40)));
  return fmt::format("{}", *integer);
}

// As it was written if TOML takes that, else the same number.
std::string number_text(const KeyInfo& key, std::string_view field, const Place& place) {
  const auto number = parse_number<double>(field);
  if (!number || !std::isfinite(*number))
    refuse(place, key, fmt::format(R"(is "{}"; write a number without unit)", field.substr(0, 40)));
  const std::size_t digits = field.starts_with('-') ? 1 : 0;
  const std::size_t point = field.find('.');
  const bool plain = field.find_first_not_of("-0123456789.") == std::string_view::npos &&
                     (field.substr(digits).find_first_not_of('0') == std::string_view::npos
                          ? field.size() == digits + 1
                          : field[digits] != '0' || point == digits + 1) &&
                     point != digits && point + 1 != field.size();
  return plain ? std::string(field) : fmt::format("{}", *number);
}

std::string written(const KeyInfo& key, std::string_view field, const Place& place) {
  switch (key.kind) {
    case Kind::integer:
    case Kind::integers:
      return integer_text(key, field, place);
    case Kind::number:
      return number_text(key, field, place);
    default:
      return quoted(field);
  }
}

}  // namespace

bool is_list(Kind kind) {
  return kind == Kind::quantities || kind == Kind::integers || by_lines(kind);
}

std::string field_text(const KeyInfo& key, const Entry& entry) {
  std::string text;
  for (const Item& item : entry.items) {
    if (!text.empty()) text += by_lines(key.kind) ? "\n" : ", ";
    text += item_text(item);
  }
  return text;
}

std::string field_text(const KeyInfo& key, const Value& value) {
  if (key.kind != Kind::stroke) return to_text(key, value);
  return fmt::format("{}", fmt::join(std::get<std::vector<std::string>>(value), "\n"));
}

std::vector<std::string> written_items(const KeyInfo& key, std::string_view field,
                                       const Place& place) {
  if (!is_list(key.kind)) return {written(key, trimmed(field), place)};
  const char* const between = by_lines(key.kind) ? "\n" : ",\n";
  std::vector<std::string> items;
  while (!field.empty()) {
    const std::size_t end = std::min(field.find_first_of(between), field.size());
    if (const std::string_view item = trimmed(field.substr(0, end)); !item.empty())
      items.push_back(written(key, item, place));
    field.remove_prefix(std::min(end + 1, field.size()));
  }
  return items;
}

}  // namespace combwright::box
