// SPDX-License-Identifier: Apache-2.0
#include "app/option_quantity.h"

#include <fmt/format.h>

#include "base/error.h"

namespace combwright::app {

std::optional<double> option_quantity(const std::string& name, const std::string& text,
                                      Dimension dimension) {
  if (text.empty()) return std::nullopt;
  const ParsedQuantity parsed = parse_quantity(text, dimension);
  if (!parsed.ok()) throw Error({}, fmt::format("{} \"{}\": {}", name, text, parsed.problem));
  return parsed.si;
}

}  // namespace combwright::app
