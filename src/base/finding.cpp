// SPDX-License-Identifier: Apache-2.0
#include "base/finding.h"

#include <algorithm>
#include <set>
#include <tuple>

#include <fmt/format.h>

namespace combwright {

std::string_view to_text(Level level) {
  switch (level) {
    case Level::fault:
      return "fault";
    case Level::warning:
      return "warning";
    case Level::note:
      return "note";
  }
  return "";
}

std::string to_text(const Finding& finding) {
  return fmt::format("{}{}{}{}{}", finding.where, finding.where.empty() ? "" : ": ", finding.what,
                     finding.remedy.empty() ? "" : "; ", finding.remedy);
}

Findings gravest_first(Findings findings) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.level < b.level; });
  return findings;
}

Findings merged(const std::vector<const Findings*>& stages) {
  Findings all;
  std::set<std::tuple<Level, std::string_view, std::string_view>> known;
  std::size_t left_out = 0;
  Level gravest = Level::note;
  for (const Findings* stage : stages) {
    for (const Finding& finding : *stage) {
      if (!known.emplace(finding.level, finding.where, finding.what).second) continue;
      if (all.size() < most_findings) {
        all.push_back(finding);
      } else {
        ++left_out;
        gravest = std::min(gravest, finding.level);
      }
    }
  }
  if (left_out > 0)
    all.push_back({gravest, "", fmt::format("{} more findings are left out", left_out),
                   "mend those told here and run it again"});
  return all;
}

bool has_fault(const Findings& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& f) { return f.level == Level::fault; });
}

}  // namespace combwright
