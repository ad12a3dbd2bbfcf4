// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/quantity.h"

namespace combwright::box {

// What stands to the right of the equals sign.
enum class Kind {
  quantity,    // "0.8 mm"
  quantities,  // ["52 mm", "84 mm"]
  number,      // 0.29, a bare number
  integer,     // 76
  integers,    // [96, 80, 72]
  text,        // "larkspur"
  stroke,      // ["M7", "M9"], lines of RS-274
  choice,      // one of the words in KeyInfo::choices
  notes,       // ["C2 D2 G2*2", "C3 D3"], low to high; *2 stands for two teeth
};

// What a key is when the file does not give it.
enum class Otherwise {
  required,  // an error
  fallback,  // KeyInfo::otherwise, read as if it stood in the file; an empty list for lines of
             // RS-274
  derived,   // computed from other keys as KeyInfo::otherwise says in words
};

// The value of a key, in SI; a choice is the index of its word.
using Value = std::variant<double, int, std::string, std::vector<double>, std::vector<int>,
                           std::vector<std::string>>;

// All that is to be known of one key. The reader, the documentation and the page are made from
// these, so that they can't disagree.
struct KeyInfo {
  std::string_view section;
  std::string_view name;
  Kind kind = Kind::text;
  Dimension dimension = Dimension::length;  // of quantities
  std::string_view least;  // as it would stand in the file; both empty if there are no bounds
  std::string_view greatest;
  Otherwise absent = Otherwise::required;
  std::string_view otherwise;
  std::string_view help;
  std::vector<std::string_view> choices = {};
  bool for_later = false;  // read, checked and stored, but no computation uses it yet
};

// How a key is tied to the struct T that it fills. `row` counts the [[sections]] of one name.
template <typename T>
struct Key {
  KeyInfo info;
  void (*set)(T&, std::size_t row, const Value&) = nullptr;
  Value (*derive)(const T&, std::size_t row) = nullptr;  // of derived keys
};

struct SectionInfo {
  std::string_view name;
  std::string_view help;
  std::size_t least_rows = 0;  // of a repeated section; both 0 for one that stands once
  std::size_t greatest_rows = 0;

  bool repeated() const { return greatest_rows > 0; }
};

template <typename T>
struct Schema {
  std::string_view thing;  // "box", for messages
  std::vector<SectionInfo> sections;
  std::vector<Key<T>> keys;  // derived keys stand after the keys that they are derived from
  void (*resize)(T&, std::string_view section, std::size_t rows) = nullptr;
};

// "disc.diameter"; "name" before the first section; "comb 2.offset" for the second of two.
std::string full_name(const KeyInfo& key, std::size_t row = 0);

// What stands right of the equals sign, in words: "mm, cm, m, um or in", "whole number".
std::string what_to_write(const KeyInfo& key);

// The value as it could stand in the file.
std::string to_text(const KeyInfo& key, const Value& value);

}  // namespace combwright::box
