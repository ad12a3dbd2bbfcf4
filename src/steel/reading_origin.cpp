// SPDX-License-Identifier: Apache-2.0
#include "steel/reading_origin.h"

#include <algorithm>

#include <fmt/format.h>

namespace combwright::steel {

Findings find_foreign(const std::vector<PitchReading>& readings, std::string_view box_sha256) {
  const auto foreign = [&](const PitchReading& reading) {
    return !box_sha256.starts_with(reading.box);
  };
  const auto first = std::find_if(readings.begin(), readings.end(), foreign);
  if (first == readings.end()) return {};
  return {
      {Level::warning, "readings",
       fmt::format("{} of {} are of a comb from another box file ({}; this one is {}): what is "
                   "learnt may count twice or be wrong",
                   std::count_if(readings.begin(), readings.end(), foreign), readings.size(),
                   first->box, box_sha256.substr(0, std::max<std::size_t>(first->box.size(), 12))),
       "give the box file that the comb was cut from"}};
}

}  // namespace combwright::steel
