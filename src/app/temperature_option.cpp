// SPDX-License-Identifier: Apache-2.0
#include "app/temperature_option.h"

#include <fmt/format.h>

#include "app/option_quantity.h"
#include "base/error.h"
#include "base/quantity.h"

namespace combwright::app {

std::optional<double> temperature_option(const std::string& text) {
  constexpr double coldest_c = -50.0;
  constexpr double hottest_c = 100.0;
  const std::optional<double> given =
      option_quantity("--temperature", text, Dimension::temperature);
  if (given && !(*given >= coldest_c && *given <= hottest_c)) {
    throw Error({}, fmt::format("--temperature \"{}\" is not one for a musical box; give one "
                                "between {:.0f} C and {:.0f} C",
                                text, coldest_c, hottest_c));
  }
  return given;
}

}  // namespace combwright::app
