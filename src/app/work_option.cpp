// SPDX-License-Identifier: Apache-2.0
#include "app/work_option.h"

#include <optional>

#include <fmt/format.h>

#include "app/option_quantity.h"
#include "base/error.h"

namespace combwright::app {

void add_work(std::vector<records::Work>& work, const char* option, const std::string& text,
              records::WorkKind kind) {
  // A file takes off less than a micrometre, but nobody can tell how much.
  constexpr double shortest_m = 1e-6;
  constexpr double longest_m = 0.1;
  const std::optional<double> length_m = option_quantity(option, text, Dimension::length);
  if (!length_m || *length_m == 0.0) return;
  if (!(*length_m >= shortest_m && *length_m < longest_m)) {
    throw Error({}, fmt::format("{} \"{}\" cannot be; give 0 mm, or a length from 0.001 mm to "
                                "below 100 mm",
                                option, text));
  }
  work.push_back({kind, *length_m});
}

}  // namespace combwright::app
