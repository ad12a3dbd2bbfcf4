// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/finding.h"

namespace combwright::app {

// Rows under headings for a person: text to the left, numbers to the right, two blanks between. A
// long table is read in groups.
class Table {
 public:
  explicit Table(std::vector<std::string> headings);

  void add(std::vector<std::string> row);

  // The rows from here on stand apart from those before, under a line of their own if it has words.
  void begin_group(std::string words = "");

  std::string text() const;

 private:
  struct Group {
    std::size_t first;  // row
    std::string words;
  };

  std::vector<std::vector<std::string>> rows_;  // the first holds the headings
  std::vector<Group> groups_;
};

// Whether a track, counted from 1, begins ten more: tables of tracks stand in tens.
constexpr bool in_a_new_ten(int track) {
  return track % 10 == 1;
}

// "Name   value" lines with the values under each other.
std::string facts(const std::vector<std::pair<std::string, std::string>>& pairs);

// One line a finding, faults first; empty if there are none.
std::string findings_text(const Findings& findings);

// "93.4 %".
std::string percent(double ratio);

}  // namespace combwright::app
