// SPDX-License-Identifier: Apache-2.0
// Any bytes are pitches of teeth that the box has, each once and near its note, or an Error with
// one line of text.
#include <cstdint>
#include <cstdlib>
#include <set>
#include <string_view>
#include <utility>

#include "base/error.h"
#include "box/box.h"
#include "steel/readings_reader.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

box::Box small_box() {
  box::Box box;
  box.tracks.count = 3;
  box.tracks.inner_radius_m = 0.04;
  box.tracks.pitch_m = 0.002;
  box.scale.midi = {60, 62, 64};
  box.combs = {{.name = "front"}, {.name = "back"}};
  return box;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const box::Box box = small_box();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    std::set<std::pair<std::size_t, std::size_t>> teeth;
    for (const steel::PitchReading& reading : steel::read_pitches(text, "r.csv", box)) {
      require(reading.comb < 2 && reading.tooth < 3);
      require(teeth.insert({reading.comb, reading.tooth}).second);
      require(reading.frequency_hz > 130.0 && reading.frequency_hz < 660.0);
      require(reading.stderr_hz >= 0.0 && reading.stderr_hz < reading.frequency_hz);
    }
    require(!teeth.empty());
  } catch (const Error& error) {
    const std::string_view told = error.what();
    require(told.starts_with("r.csv") && told.find('\n') == std::string_view::npos);
  }
  return 0;
}
