// SPDX-License-Identifier: Apache-2.0
#include "draw/finding_words.h"

#include <algorithm>

#include "draw/plain_text.h"
#include "draw/words.h"

namespace combwright::draw {

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

std::string finding_words(const Finding& finding) {
  return dashed(to_text(finding));
}

}  // namespace combwright::draw
