// SPDX-License-Identifier: Apache-2.0
#include "app/wind_option.h"

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::app {

std::optional<motor::WindState> wind_of(const std::string& word) {
  if (word.empty()) return std::nullopt;
  if (word == "full") return motor::WindState::full;
  if (word == "half") return motor::WindState::half;
  if (word == "last") return motor::WindState::last;
  throw Error({}, fmt::format("--wind {}: write full, half or last", word));
}

}  // namespace combwright::app
