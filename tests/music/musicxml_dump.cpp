// SPDX-License-Identifier: Apache-2.0
// Reads the paths of MusicXML files, one a line, from standard input and prints what read_musicxml
// makes of them: "file PATH", then "note ONSET_QUARTER ONSET_S MIDI PART DURATION_QUARTER"
// for each note, or "error TEXT".
#include <iostream>
#include <iterator>
#include <string>

#include <fmt/format.h>

#include "base/error.h"
#include "base/file.h"
#include "music/musicxml_reader.h"

namespace {

void dump(const std::string& path, std::string& out) {
  const auto to = std::back_inserter(out);
  fmt::format_to(to, "file {}\n", path);
  try {
    const auto tune = combwright::music::read_musicxml(combwright::read_file(path), path);
    for (const auto& note : tune.notes)
      fmt::format_to(to, "note {} {} {} {} {}\n", note.onset_quarter, note.onset_s, note.midi,
                     note.part, note.duration_quarter);
  } catch (const combwright::Error& error) {
    fmt::format_to(to, "error {}\n", error.what());
  }
}

}  // namespace

int main() {
  std::string out;
  for (std::string path; std::getline(std::cin, path);) dump(path, out);
  std::cout << out;
  return 0;
}
