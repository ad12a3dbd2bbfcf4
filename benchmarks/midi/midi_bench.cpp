// SPDX-License-Identifier: Apache-2.0
// midi_bench ours|libsmf count|time ROUNDS < LIST
// LIST names MIDI files, one a line. `count` prints the pitched notes of each file, or -1 where it
// can't be read; `time` reads all files ROUNDS times from memory and prints the processor
// seconds of each, which a busy machine falsifies least.
#include <cstdint>
#include <ctime>
#include <iostream>
#include <string>
#include <vector>

#include <smf.h>

#include "base/error.h"
#include "base/file.h"
#include "music/midi_reader.h"

namespace {

using combwright::Bytes;

long ours(const Bytes& file) {
  try {
    return static_cast<long>(combwright::music::read_midi(file, "file").notes.size());
  } catch (const combwright::Error&) {
    return -1;
  }
}

// Loading sorts nothing; going through the events in order of time is what makes a tune of them.
long libsmf(const Bytes& file) {
  smf_t* smf = smf_load_from_memory(file.data(), static_cast<int>(file.size()));
  if (smf == nullptr) return -1;
  long notes = 0;
  for (smf_event_t* event = smf_get_next_event(smf); event != nullptr;
       event = smf_get_next_event(smf)) {
    const std::uint8_t* data = event->midi_buffer;
    if (event->midi_buffer_length == 3 && (data[0] & 0xF0U) == 0x90 && data[0] != 0x99 &&
        data[2] > 0)
      ++notes;
  }
  smf_delete(smf);
  return notes;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const auto read = std::string(argv[1]) == "ours" ? ours : libsmf;
  std::vector<Bytes> files;
  for (std::string path; std::getline(std::cin, path);)
    files.push_back(combwright::read_file(path));
  if (std::string(argv[2]) == "count") {
    for (const Bytes& file : files) std::cout << read(file) << '\n';
    return 0;
  }
  long notes = 0;
  for (int round = argc > 3 ? std::stoi(argv[3]) : 1; round > 0; --round) {
    const std::clock_t start = std::clock();
    for (const Bytes& file : files) notes += read(file);
    std::cout << static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC << '\n';
  }
  return notes > 0 ? 0 : 1;
}
