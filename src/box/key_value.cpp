// SPDX-License-Identifier: Apache-2.0
#include "box/key_value.h"

#include <cassert>
#include <charconv>
#include <optional>

#include <fmt/format.h>

#include "box/note_list.h"
#include "box/stroke.h"

namespace combwright::box {
namespace {

double read_quantity(const KeyInfo& key, const Item& item) {
  const auto* text = std::get_if<std::string>(&item.value);
  if (text == nullptr) {
    refuse(
        item.place, key,
        fmt::format("is {}; write it with a unit: {}", describe(item), unit_list(key.dimension)));
  }
  const ParsedQuantity quantity = parse_quantity(*text, key.dimension);
  if (!quantity.ok()) refuse(item.place, key, "= " + quantity.problem);
  return quantity.si;
}

int read_integer(const KeyInfo& key, const Item& item) {
  const auto* integer = std::get_if<std::int64_t>(&item.value);
  if (integer == nullptr) {
    refuse(item.place, key,
           std::holds_alternative<double>(item.value)
               ? "has a fraction; write a whole number"
               : fmt::format("is {}; write a whole number without quotes", describe(item)));
  }
  constexpr std::int64_t largest = 1'000'000;
  if (*integer < -largest || *integer > largest)
    refuse(item.place, key, fmt::format("is {}; that is beyond all bounds", *integer));
  return static_cast<int>(*integer);
}

double read_number(const KeyInfo& key, const Item& item) {
  if (const auto* integer = std::get_if<std::int64_t>(&item.value))
    return static_cast<double>(*integer);
  if (const auto* real = std::get_if<double>(&item.value)) return *real;
  refuse(item.place, key,
         fmt::format("is {}; write a number without quotes or unit", describe(item)));
}

const std::string& read_text(const KeyInfo& key, const Item& item) {
  const auto* text = std::get_if<std::string>(&item.value);
  if (text == nullptr)
    refuse(item.place, key, fmt::format("is {}; write text in quotes", describe(item)));
  return *text;
}

std::string read_plain_text(const KeyInfo& key, const Item& item) {
  const std::string& text = read_text(key, item);
  constexpr std::size_t longest = 80;
  if (text.empty() || text.size() > longest)
    refuse(item.place, key, fmt::format("has {} bytes; write 1 to {}", text.size(), longest));
  for (const char c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      refuse(item.place, key, "holds a control character; write it on one line");
  return text;
}

std::optional<int> choice_index(const KeyInfo& key, std::string_view word) {
  for (std::size_t i = 0; i < key.choices.size(); ++i)
    if (key.choices[i] == word) return static_cast<int>(i);
  return std::nullopt;
}

int read_choice(const KeyInfo& key, const Item& item) {
  const std::string& word = read_text(key, item);
  if (const auto index = choice_index(key, word)) return *index;
  refuse(item.place, key,
         fmt::format(R"(is "{}"; write "{}")", word.substr(0, 40),
                     fmt::join(key.choices, R"(" or ")")));
}

template <typename Number, typename Read>
std::vector<Number> read_list(const KeyInfo& key, const Entry& entry, Read read) {
  if (!entry.is_list)
    refuse(entry.value_place, key,
           fmt::format("is {}; write a list in [ ]", describe(entry.items.front())));
  std::vector<Number> list;
  for (const Item& item : entry.items) list.push_back(read(key, item));
  return list;
}

std::string read_stroke_line(const KeyInfo& key, const Item& item) {
  std::string line = read_plain_text(key, item);
  if (const std::string problem = stroke_line_problem(line); !problem.empty())
    refuse(item.place, key, problem);
  return line;
}

Value read_stroke(const KeyInfo& key, const Entry& entry) {
  std::vector<std::string> lines = read_list<std::string>(key, entry, read_stroke_line);
  if (const std::string problem = stroke_end_problem(lines); !problem.empty())
    refuse(entry.items.back().place, key, problem);
  return lines;
}

Value read_unbounded(const KeyInfo& key, const Entry& entry) {
  switch (key.kind) {
    case Kind::quantities:
      return read_list<double>(key, entry, read_quantity);
    case Kind::integers:
      return read_list<int>(key, entry, read_integer);
    case Kind::stroke:
      return read_stroke(key, entry);
    case Kind::notes:
      return read_notes(key, entry);
    default:
      break;
  }
  if (entry.is_list) refuse(entry.value_place, key, "is a list; write one value");
  const Item& item = entry.items.front();
  switch (key.kind) {
    case Kind::quantity:
      return read_quantity(key, item);
    case Kind::number:
      return read_number(key, item);
    case Kind::integer:
      return read_integer(key, item);
    case Kind::choice:
      return read_choice(key, item);
    default:
      return read_plain_text(key, item);
  }
}

double plain_number(std::string_view text) {
  double number = 0.0;
  [[maybe_unused]] const auto result =
      std::from_chars(text.data(), text.data() + text.size(), number);
  assert(result.ec == std::errc{} && result.ptr == text.data() + text.size());
  return number;
}

// A number of the key table, in SI.
double table_number(const KeyInfo& key, std::string_view text) {
  if (key.kind != Kind::quantity && key.kind != Kind::quantities) return plain_number(text);
  const ParsedQuantity quantity = parse_quantity(text, key.dimension);
  assert(quantity.ok());
  return quantity.si;
}

bool within(const KeyInfo& key, double number) {
  // Written so that a NaN is outside.
  return number >= table_number(key, key.least) && number <= table_number(key, key.greatest);
}

}  // namespace

void refuse(const Place& place, const KeyInfo& key, const std::string& problem) {
  throw Error(place, fmt::format("{} {}", full_name(key), problem));
}

std::string bounds_problem(const KeyInfo& key, const Value& value) {
  // A list is bounded item by item.
  KeyInfo one = key;
  one.kind = key.kind == Kind::quantities ? Kind::quantity
             : key.kind == Kind::integers ? Kind::integer
                                          : key.kind;
  const auto check = [&](double number, const Value& shown) -> std::string {
    if (within(key, number)) return {};
    return fmt::format("is {}; it must lie between {} and {}", to_text(one, shown), key.least,
                       key.greatest);
  };
  if (key.least.empty()) return {};
  if (const auto* real = std::get_if<double>(&value)) return check(*real, *real);
  if (const auto* integer = std::get_if<int>(&value)) return check(*integer, *integer);
  if (const auto* reals = std::get_if<std::vector<double>>(&value))
    for (const double number : *reals)
      if (auto problem = check(number, number); !problem.empty()) return problem;
  if (const auto* integers = std::get_if<std::vector<int>>(&value))
    for (const int number : *integers)
      if (auto problem = check(number, number); !problem.empty()) return problem;
  return {};
}

Value read_value(const KeyInfo& key, const Entry& entry) {
  Value value = read_unbounded(key, entry);
  if (const std::string problem = bounds_problem(key, value); !problem.empty())
    refuse(entry.value_place, key, problem);
  return value;
}

Value fallback_value(const KeyInfo& key) {
  assert(key.absent == Otherwise::fallback);
  switch (key.kind) {
    case Kind::quantity:
    case Kind::number:
      return table_number(key, key.otherwise);
    case Kind::integer:
      return static_cast<int>(plain_number(key.otherwise));
    case Kind::choice:
      return choice_index(key, key.otherwise).value();
    case Kind::text:
      return std::string(key.otherwise);
    default:
      break;
  }
  if (key.kind == Kind::stroke) return std::vector<std::string>{};
  std::vector<double> reals;
  std::vector<int> integers;
  for (std::string_view rest = key.otherwise; !rest.empty();) {
    const std::size_t comma = std::min(rest.find(", "), rest.size());
    const double number = table_number(key, rest.substr(0, comma));
    reals.push_back(number);
    integers.push_back(static_cast<int>(number));
    rest.remove_prefix(std::min(comma + 2, rest.size()));
  }
  return key.kind == Kind::quantities ? Value(reals) : Value(integers);
}

}  // namespace combwright::box
