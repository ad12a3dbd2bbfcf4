// SPDX-License-Identifier: Apache-2.0
#include "app/report.h"

#include <algorithm>
#include <cassert>

#include <fmt/format.h>

#include "base/text.h"

namespace combwright::app {
namespace {

bool is_number(const std::string& cell) {
  const std::size_t first = cell.find_first_not_of("+-");
  return first != std::string::npos && cell[first] >= '0' && cell[first] <= '9';
}

}  // namespace

Table::Table(std::vector<std::string> headings) : rows_{std::move(headings)} {}

void Table::add(std::vector<std::string> row) {
  assert(row.size() == rows_.front().size());
  rows_.push_back(std::move(row));
}

void Table::begin_group(std::string words) {
  groups_.push_back({rows_.size(), std::move(words)});
}

std::string Table::text() const {
  std::string text;
  const std::size_t columns = rows_.front().size();
  std::vector<std::size_t> widths(columns);
  std::vector<bool> numeric(columns, rows_.size() > 1);
  for (const auto& row : rows_) {
    for (std::size_t c = 0; c < columns; ++c) {
      widths[c] = std::max(widths[c], letters(row[c]));
      if (&row != &rows_.front() && !row[c].empty() && !is_number(row[c])) numeric[c] = false;
    }
  }
  auto group = groups_.begin();
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    const auto& row = rows_[r];
    for (; group != groups_.end() && group->first == r; ++group) {
      if (r > 1 || !group->words.empty()) text += "\n";
      if (!group->words.empty()) text += group->words + "\n";
    }
    std::string line;
    for (std::size_t c = 0; c < columns; ++c) {
      const std::string padding(widths[c] - letters(row[c]), ' ');
      line += (c > 0 ? "  " : "") + (numeric[c] ? padding + row[c] : row[c] + padding);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

std::string facts(const std::vector<std::pair<std::string, std::string>>& pairs) {
  std::size_t width = 0;
  for (const auto& [name, value] : pairs) width = std::max(width, letters(name));
  std::string text;
  for (const auto& [name, value] : pairs)
    text += fmt::format("{}{}  {}\n", name, std::string(width - letters(name), ' '), value);
  return text;
}

std::string findings_text(const Findings& findings) {
  std::string text;
  for (const Finding& finding : gravest_first(findings))
    text += fmt::format("{}: {}\n", to_text(finding.level), to_text(finding));
  return text.empty() ? text : fmt::format("\n{}", text);
}

std::string percent(double ratio) {
  return fmt::format("{:.1f} %", 100.0 * ratio);
}

}  // namespace combwright::app
