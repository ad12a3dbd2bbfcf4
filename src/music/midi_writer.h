// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace combwright::music {

struct MidiEvent {
  double onset_s = 0.0;
  double duration_s = 0.0;
  int midi = 60;
  int velocity = 80;  // 1..127
  int channel = 0;    // 0..15
};

// A format 1 Standard MIDI File: a tempo track (title, 60/min) and one track of notes, 10,000 ticks
// a second, so that no onset is off by more than 0.05 ms; `program` is the General MIDI program of
// every channel used.
std::vector<std::uint8_t> write_midi(const std::vector<MidiEvent>& events, const std::string& title,
                                     int program);

}  // namespace combwright::music
