// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "music/tune.h"

namespace combwright::music {

// Reads a Standard MIDI File (formats 0, 1 and 2, PPQ and SMPTE division; SMF 1.0/1.1).
// `name` stands in errors. Percussion (channel 10) is left out and counted in a finding.
// Small faults that real files have are mended and reported as findings; a file that can't be
// understood throws Error with the byte offset.
Tune read_midi(std::span<const std::uint8_t> bytes, const std::string& name);

}  // namespace combwright::music
