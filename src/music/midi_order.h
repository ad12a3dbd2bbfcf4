// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "music/midi_score.h"

namespace combwright::music {

// Indices of the notes in order of onset, then pitch, then place in the file. Takes time in
// proportion to the number of notes (radix sort). At most max_notes notes, ticks below
// max_midi_ticks.
std::vector<std::uint32_t> midi_order(const std::vector<MidiNote>& notes);

}  // namespace combwright::music
