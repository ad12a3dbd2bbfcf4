// SPDX-License-Identifier: Apache-2.0
#include "box/keys.h"

#include <fmt/format.h>

#include "music/pitch.h"

namespace combwright::box {
namespace {

template <typename List, typename Format>
std::string listed(const List& list, Format format) {
  std::vector<std::string> items;
  items.reserve(list.size());
  for (const auto& item : list) items.push_back(format(item));
  return fmt::format("{}", fmt::join(items, ", "));
}

// "C2 G2*2": runs of one note are written once.
std::string note_text(const std::vector<int>& notes) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < notes.size();) {
    std::size_t end = i;
    while (end < notes.size() && notes[end] == notes[i]) ++end;
    words.push_back(music::note_name(notes[i]));
    if (end - i > 1) words.back() += fmt::format("*{}", end - i);
    i = end;
  }
  return fmt::format("{}", fmt::join(words, " "));
}

}  // namespace

std::string full_name(const KeyInfo& key, std::size_t row) {
  if (key.section.empty()) return std::string(key.name);
  if (row > 0) return fmt::format("{} {}.{}", key.section, row + 1, key.name);
  return fmt::format("{}.{}", key.section, key.name);
}

std::string what_to_write(const KeyInfo& key) {
  switch (key.kind) {
    case Kind::quantity:
      return unit_list(key.dimension);
    case Kind::quantities:
      return fmt::format("list of {}", unit_list(key.dimension));
    case Kind::number:
      return "number";
    case Kind::integer:
      return "whole number";
    case Kind::integers:
      return "list of whole numbers";
    case Kind::text:
      return "text";
    case Kind::stroke:
      return "list of RS-274 lines";
    case Kind::choice:
      return fmt::format("\"{}\"", fmt::join(key.choices, "\" or \""));
    case Kind::notes:
      return "notes";
  }
  return {};
}

std::string to_text(const KeyInfo& key, const Value& value) {
  switch (key.kind) {
    case Kind::quantity:
      return combwright::to_text(std::get<double>(value), key.dimension);
    case Kind::quantities:
      return listed(std::get<std::vector<double>>(value),
                    [&](double si) { return combwright::to_text(si, key.dimension); });
    case Kind::number:
      return fmt::format("{}", std::get<double>(value));
    case Kind::integer:
      return fmt::format("{}", std::get<int>(value));
    case Kind::integers:
      return listed(std::get<std::vector<int>>(value),
                    [](int integer) { return fmt::format("{}", integer); });
    case Kind::text:
      return std::get<std::string>(value);
    case Kind::stroke:
      return fmt::format("{}", fmt::join(std::get<std::vector<std::string>>(value), ", "));
    case Kind::choice:
      return std::string(key.choices[static_cast<std::size_t>(std::get<int>(value))]);
    case Kind::notes:
      return note_text(std::get<std::vector<int>>(value));
  }
  return {};
}

}  // namespace combwright::box
