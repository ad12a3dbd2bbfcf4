// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>

#include "base/error.h"

namespace combwright::box {

inline constexpr std::string_view blanks = " \t";

// What is taken out of a text and put into it, told by places of the text as it was.
class TextPatch {
 public:
  explicit TextPatch(std::string_view text);

  // Offset of a place by line and column, the column counted in letters. Requires both.
  std::size_t offset(const Place& place) const;

  // Of the line that an offset lies in: its first byte, and its end without the line break.
  std::size_t line_begin(std::size_t offset) const;
  std::size_t line_end(std::size_t offset) const;
  // The blanks that it begins with.
  std::string_view indent(std::size_t offset) const;

  // As the text breaks its lines.
  std::string_view line_break() const { return line_break_; }

  void erase(std::size_t from, std::size_t to);
  // Erases, and with it the whole line if nothing else stands there; blanks before a comment that
  // is left go too.
  void erase_line_part(std::size_t from, std::size_t to);
  void insert(std::size_t at, std::string_view what);

  std::string applied() const;

 private:
  std::string_view text_;
  std::string_view line_break_ = "\n";
  std::map<std::size_t, std::string> inserted_;
  std::map<std::size_t, std::size_t> erased_;  // from, to
};

}  // namespace combwright::box
