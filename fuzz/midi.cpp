// SPDX-License-Identifier: Apache-2.0
// Any bytes give a tune that keeps the promises of tune.h or an Error; a tune written as MIDI comes
// back with as many notes.
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <vector>

#include "../tests/music/midi_invariants.h"
#include "base/error.h"
#include "music/midi_reader.h"
#include "music/midi_writer.h"

namespace {

using namespace combwright::music;

void require(bool held, const std::string& promise) {
  if (held) return;
  std::cerr << promise << '\n';
  std::abort();
}

std::vector<MidiEvent> events_of(const Tune& tune) {
  std::vector<MidiEvent> events;
  for (const Note& note : tune.notes) {
    events.push_back({.onset_s = note.onset_s,
                      .duration_s = note.duration_s,
                      .midi = note.midi,
                      .velocity = static_cast<int>(std::lround(127.0 * note.loudness)),
                      .channel = note.part % 9});
  }
  return events;
}

}  // namespace

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Tune tune;
  try {
    tune = read_midi({data, size}, "input");
  } catch (const combwright::Error&) {
    return 0;
  }
  const std::string broken = broken_promise(tune);
  require(broken.empty(), broken);
  // At 60/min in 4/4 a longer tune would have too many bars.
  if (tune.length_s < 4.0 * static_cast<double>(max_bars) - 4.0) {
    const Tune again = read_midi(write_midi(events_of(tune), tune.title, 10), "written");
    require(again.notes.size() == tune.notes.size(), "a note was lost in writing");
  }
  return 0;
}
