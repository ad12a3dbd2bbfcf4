// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "music/tune.h"

namespace combwright::music {

// Reads MusicXML 1.0 to 4.0, partwise or timewise, plain or compressed (.mxl, recognised by its
// bytes). Repeats, endings and jumps are played out; tied notes become one; grace notes and
// arpeggios get onsets of their own. `name` stands in errors. Throws Error with line and column.
Tune read_musicxml(std::span<const std::uint8_t> bytes, const std::string& name);

}  // namespace combwright::music
