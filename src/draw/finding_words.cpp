// SPDX-License-Identifier: Apache-2.0
#include "draw/finding_words.h"

#include <algorithm>

#include "draw/plain_text.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr std::string_view option_letters = "abcdefghijklmnopqrstuvwxyz-";

bool drop_ending(std::string& text, std::string_view ending) {
  if (!text.ends_with(ending)) return false;
  text.resize(text.size() - ending.size());
  return true;
}

}  // namespace

std::string finding_counts(const Findings& findings) {
  std::string out;
  for (const auto level : {Level::fault, Level::warning, Level::note}) {
    const auto count = static_cast<std::size_t>(
        std::count_if(findings.begin(), findings.end(),
                      [level](const Finding& finding) { return finding.level == level; }));
    if (count == 0) continue;
    out += (out.empty() ? "" : ", ") + counted(count, std::string(to_text(level)));
  }
  return out.empty() ? "none" : out;
}

std::string on_paper(std::string_view text) {
  std::string out;
  while (true) {
    const auto dashes = text.find("--");
    out += text.substr(0, dashes);
    if (dashes == std::string_view::npos) return out;
    text.remove_prefix(dashes);
    const auto name = text.substr(0, text.find_first_not_of(option_letters));
    text.remove_prefix(name.size());
    if (name == "--") {
      out += name;  // no option: a dash in a title
    } else if (text.starts_with(")") && drop_ending(out, " (")) {
      text.remove_prefix(1);
    } else if (!drop_ending(out, " with ") && !drop_ending(out, " and ")) {
      out += name.substr(std::min(name.size(), name.find_first_not_of('-')));
    }
  }
}

std::string finding_words(const Finding& finding) {
  return dashed(on_paper(to_text(finding)));
}

}  // namespace combwright::draw
