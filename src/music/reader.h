// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "music/tune.h"

namespace combwright::music {

// Reads a tune in whichever format its first bytes show: Standard MIDI File, MusicXML or
// compressed MusicXML. Throws Error if it is none of them.
Tune read_tune(std::span<const std::uint8_t> bytes, const std::string& name);

}  // namespace combwright::music
