// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/finding.h"
#include "box/box.h"

namespace combwright::box {

struct BoxReading {
  Box box;
  Findings findings;
};

// Reads a box from the text of a TOML file: quantities as text with units, unknown keys refused
// with a suggestion, everything not given derived or defaulted, then checked as a whole. `name`
// stands in errors. Throws Error with line and column.
BoxReading read_box(std::string_view text, const std::string& name);

}  // namespace combwright::box
