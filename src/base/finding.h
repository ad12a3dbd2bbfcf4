// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace combwright {

enum class Level { fault, warning, note };  // the gravest first

// Where in the job a finding lies, for drawings to point at; what is not known stays empty.
struct Spot {
  int track = 0;           // from 1
  std::vector<int> hits;   // of the disc, in the order of the punch, from 1
  std::vector<int> notes;  // of the arrangement, by their index

  bool empty() const { return track == 0 && hits.empty() && notes.empty(); }
};

// What a stage has to say about its result. A fault means that the result must not be cut as it
// stands; a warning, that someone should look; a note, that something was decided for the maker.
struct Finding {
  Level level = Level::note;
  std::string where;
  std::string what;
  std::string remedy;
  Spot at = {};
};

using Findings = std::vector<Finding>;

// "fault", "warning" or "note".
std::string_view to_text(Level level);

// What a finding says in one line: "where: what; remedy", without what is empty.
std::string to_text(const Finding& finding);

// Faults, then warnings, then notes, each in the order in which they were found.
Findings gravest_first(Findings findings);

// No stage has more to say than this; what is beyond is counted.
inline constexpr std::size_t most_findings = 1'000;

// The findings of several stages in order, each once (level, where and what tell them apart). After
// most_findings of them one more tells how many are left out, at the level of the gravest of those.
Findings merged(const std::vector<const Findings*>& stages);

// True if any finding is a fault.
bool has_fault(const Findings& findings);

}  // namespace combwright
