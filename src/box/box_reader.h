// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.h"
#include "box/box.h"
#include "box/setting.h"
#include "music/temperament.h"

namespace combwright::box {

struct BoxReading {
  Box box;
  std::vector<Setting> settings;  // every key with where its value comes from, in reading order
  Findings findings;
};

// The notes of the scale file that a box names by its path.
using ScaleFile = std::function<music::Temperament(const std::string& path)>;

// Reads a box from the text of a TOML file: quantities as text with units, unknown keys refused
// with a suggestion, everything not given derived or defaulted, then checked as a whole. `name`
// stands in errors. Throws Error with line and column, also if the box names a scale file and none
// can be had; what `scale_file` throws goes through.
BoxReading read_box(std::string_view text, const std::string& name,
                    const ScaleFile& scale_file = {});

}  // namespace combwright::box
