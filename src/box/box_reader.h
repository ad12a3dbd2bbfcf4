// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/finding.h"
#include "box/box.h"
#include "box/setting.h"

namespace combwright::box {

struct BoxReading {
  Box box;
  std::vector<Setting> settings;  // every key with where its value comes from, in reading order
  Findings findings;
};

// Reads a box from the text of a TOML file: quantities as text with units, unknown keys refused
// with a suggestion, everything not given derived or defaulted, then checked as a whole. `name`
// stands in errors. Throws Error with line and column.
BoxReading read_box(std::string_view text, const std::string& name);

}  // namespace combwright::box
