// SPDX-License-Identifier: Apache-2.0
// recording_dump FILE: "rate channels frames cut_short format", then every sample of every frame,
// each on a line, for tests against other programs.
#include <iostream>

#include <fmt/format.h>

#include "base/error.h"
#include "ear/recording_reader.h"

int main(int, char** arguments) {
  using namespace combwright;
  try {
    const std::string path = arguments[1];
    const ear::Recording recording =
        ear::read_recording(read_file(path, ear::max_recording_bytes), path);
    fmt::print("{} {} {} {:d} {}\n", recording.rate_hz, recording.channels.size(),
               recording.frames(), recording.cut_short, recording.format);
    for (std::size_t i = 0; i < recording.frames(); ++i)
      for (const auto& channel : recording.channels) fmt::print("{:.17g}\n", channel[i]);
  } catch (const Error& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
}
