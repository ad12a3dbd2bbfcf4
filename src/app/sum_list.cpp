// SPDX-License-Identifier: Apache-2.0
#include "app/sum_list.h"

#include <algorithm>

#include <fmt/format.h>

namespace combwright::app {
namespace {

constexpr std::size_t sum_length = 64;
constexpr std::string_view box_mark = "# box: ";
constexpr std::string_view tune_mark = "# tune: ";

// A name must not break its line in two.
std::string in_one_line(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < ' ' || c == 0x7F; }, ' ');
  return text;
}

void read_line(const std::string& line, SumList& list) {
  if (line.starts_with(box_mark)) {
    list.box = line.substr(box_mark.size());
  } else if (line.starts_with(tune_mark)) {
    list.tune = line.substr(tune_mark.size());
  } else if (line.size() > sum_length + 2 && line[0] != '#') {
    const std::string name = line.substr(sum_length + 2);
    if (name.find('/') == std::string::npos) list.sums[name] = line.substr(0, sum_length);
  }
}

}  // namespace

std::string write_sum_list(const OutputFolder& folder, const std::vector<OutputFile>& files,
                           const std::vector<std::string>& sums) {
  std::string text = fmt::format(
      "# written by combwright; check with: sha256sum --check {}\n{}{}\n{}{}\n", sums_name,
      box_mark, in_one_line(folder.box), tune_mark, in_one_line(folder.tune));
  for (std::size_t i = 0; i < files.size(); ++i)
    text += fmt::format("{}  {}\n", sums[i], files[i].name);
  return text;
}

SumList read_sum_list(std::string_view text) {
  SumList list;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    read_line(std::string(text.substr(0, end)), list);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return list;
}

bool is_of(const SumList& list, const OutputFolder& folder) {
  return list.box == in_one_line(folder.box) && list.tune == in_one_line(folder.tune);
}

}  // namespace combwright::app
