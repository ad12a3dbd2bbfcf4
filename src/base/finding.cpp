// SPDX-License-Identifier: Apache-2.0
#include "base/finding.h"

#include <algorithm>

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

bool has_fault(const Findings& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& f) { return f.level == Level::fault; });
}

}  // namespace combwright
