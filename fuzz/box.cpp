// SPDX-License-Identifier: Apache-2.0
// Any bytes are a box that holds together, or an Error with one line of text.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/error.h"
#include "box/box_reader.h"

namespace {

using namespace combwright;

void require(bool condition) {
  if (!condition) std::abort();
}

void check_error(const Error& error) {
  const std::string_view text = error.what();
  require(text.substr(0, 6) == "a.toml" && text.find('\n') == std::string_view::npos);
}

void check_box(const box::BoxReading& reading) {
  const box::Box& box = reading.box;
  const std::vector<box::Track> tracks = box::tracks(box);
  require(!tracks.empty() && tracks.size() == box.scale.midi.size());
  double last = 0.5 * box.disc.centre_hole_diameter_m;
  for (const box::Track& track : tracks) {
    require(std::isfinite(track.radius_m) && track.radius_m > last);
    require(track.midi >= 0 && track.midi <= 127);
    last = track.radius_m;
  }
  require(last < 0.5 * box.disc.diameter_m);
  require(box.star_wheel.axis_below_disc_m - box.projection.height_m < box.star_wheel.tip_radius_m);
  require(box.motor.turn_time_s > 0.0 && box.motor.slowest_tempo <= box.motor.fastest_tempo);
  require(!box.combs.empty() && box.train.wheel_teeth.size() == box.train.pinion_teeth.size());
  for (const box::Setting& setting : reading.settings) require(!setting.key.empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    check_box(box::read_box(text, "a.toml"));
  } catch (const Error& error) {
    check_error(error);
  }
  return 0;
}
