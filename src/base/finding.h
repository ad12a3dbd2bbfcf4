// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace combwright {

enum class Level { fault, warning, note };

// What a stage has to say about its result. A fault means that the result must not be cut as it
// stands; a warning, that someone should look; a note, that something was decided for the maker.
struct Finding {
  Level level = Level::note;
  std::string where;
  std::string what;
  std::string remedy;
};

using Findings = std::vector<Finding>;

// "fault", "warning" or "note".
std::string_view to_text(Level level);

// True if any finding is a fault.
bool has_fault(const Findings& findings);

}  // namespace combwright
