// SPDX-License-Identifier: Apache-2.0
// midi_dump FOLDER < LIST
// LIST names MIDI files, one a line. Prints what read_midi makes of each: "file PATH", then "note
// ONSET_S DURATION_S MIDI VELOCITY" for each note, or "error TEXT"; and writes it again with
// write_midi to FOLDER/1.mid for the first file, FOLDER/2.mid for the second and so on.
#include <cmath>
#include <iostream>
#include <string>

#include <fmt/format.h>

#include "base/error.h"
#include "base/file.h"
#include "music/midi_reader.h"
#include "music/midi_writer.h"

namespace {

using namespace combwright;

int velocity_of(const music::Note& note) {
  return static_cast<int>(std::lround(127.0 * note.loudness));
}

void print(const music::Tune& tune, std::string& out) {
  for (const music::Note& note : tune.notes) {
    fmt::format_to(std::back_inserter(out), "note {} {} {} {}\n", note.onset_s, note.duration_s,
                   note.midi, velocity_of(note));
  }
}

void rewrite(const music::Tune& tune, const std::string& path) {
  std::vector<music::MidiEvent> events;
  for (const music::Note& note : tune.notes) {
    events.push_back({.onset_s = note.onset_s,
                      .duration_s = note.duration_s,
                      .midi = note.midi,
                      .velocity = velocity_of(note),
                      .channel = note.part % 9});
  }
  write_file(path, music::write_midi(events, tune.title, 10));
}

}  // namespace

// NOLINTNEXTLINE(bugprone-exception-escape): nothing to do but stop if memory runs out
int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::string out;
  int number = 0;
  for (std::string path; std::getline(std::cin, path);) {
    fmt::format_to(std::back_inserter(out), "file {}\n", path);
    ++number;
    try {
      const music::Tune tune = music::read_midi(read_file(path), path);
      print(tune, out);
      rewrite(tune, fmt::format("{}/{}.mid", argv[1], number));
    } catch (const Error& error) {
      fmt::format_to(std::back_inserter(out), "error {}\n", error.what());
    }
  }
  std::cout << out;
  return 0;
}
