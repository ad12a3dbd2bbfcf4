// SPDX-License-Identifier: Apache-2.0
// Any bytes are a recording that keeps the promises of recording_reader.h or an Error of one line.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "base/error.h"
#include "ear/recording_reader.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

}  // namespace

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  try {
    const ear::Recording recording = ear::read_recording({data, data + size}, "r.wav");
    require(recording.rate_hz >= ear::min_rate_hz && recording.rate_hz <= ear::max_rate_hz);
    require(!recording.channels.empty() && recording.channels.size() <= ear::max_channels);
    require(recording.frames() > 0 && recording.seconds() <= ear::max_recording_s);
    for (const auto& channel : recording.channels) {
      require(channel.size() == recording.frames());
      for (const double sample : channel) require(std::abs(sample) <= ear::max_sample);
    }
  } catch (const Error& error) {
    const std::string_view told = error.what();
    require(told.starts_with("r.wav: ") && told.find('\n') == std::string_view::npos);
  }
  return 0;
}
