// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/finding.h"

namespace combwright::app {

// Rows under headings for a person: text to the left, numbers to the right, two blanks between.
class Table {
 public:
  explicit Table(std::vector<std::string> headings);

  void add(std::vector<std::string> row);
  std::string text() const;

 private:
  std::vector<std::vector<std::string>> rows_;  // the first holds the headings
};

// "Name   value" lines with the values under each other.
std::string facts(const std::vector<std::pair<std::string, std::string>>& pairs);

// One line a finding, faults first; empty if there are none.
std::string findings_text(const Findings& findings);

// "93.4 %".
std::string percent(double ratio);

// "up 3 semitones", "down 1 semitone", "as written".
std::string transposition_text(int semitones);

}  // namespace combwright::app
