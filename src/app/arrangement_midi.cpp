// SPDX-License-Identifier: Apache-2.0
#include "app/arrangement_midi.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <vector>

#include <fmt/format.h>

#include "music/midi_writer.h"

namespace combwright::app {

std::string midi_title(const std::string& tune, const std::string& box) {
  return fmt::format("{}, arranged for {} by combwright", tune, box);
}

std::string arrangement_midi(const arrange::Arrangement& arrangement) {
  constexpr int music_box_program = 10;     // General MIDI, counted from 0
  constexpr double shortest_note_s = 0.02;  // two plucks of one pitch may come together
  std::map<int, int> midi_of_track;
  for (const arrange::TrackUse& track : arrangement.tracks) midi_of_track[track.track] = track.midi;
  std::vector<music::MidiEvent> events;
  std::map<int, std::size_t> last_of_pitch;
  for (const arrange::Pluck& pluck : arrangement.plucks) {
    const int midi = midi_of_track[pluck.track];
    const double duration_s = arrangement.notes[static_cast<std::size_t>(pluck.note)].duration_s;
    if (const auto last = last_of_pitch.find(midi); last != last_of_pitch.end()) {
      music::MidiEvent& before = events[last->second];
      before.duration_s = std::min(before.duration_s, pluck.time_s - before.onset_s);
    }
    last_of_pitch[midi] = events.size();
    events.push_back({.onset_s = pluck.time_s,
                      .duration_s = std::max(duration_s, shortest_note_s),
                      .midi = midi});
  }
  const std::string title = midi_title(arrangement.title, arrangement.box_name);
  const std::vector<std::uint8_t> bytes = music::write_midi(events, title, music_box_program);
  return {bytes.begin(), bytes.end()};
}

}  // namespace combwright::app
