// SPDX-License-Identifier: Apache-2.0
#include "box/box.h"

namespace combwright::box {

std::string_view to_text(Turning turning) {
  return turning == Turning::clockwise ? "clockwise" : "counter-clockwise";
}

std::string_view to_text(WeightMetal metal) {
  switch (metal) {
    case WeightMetal::tungsten:
      return "tungsten";
    case WeightMetal::tin_bismuth:
      return "tin-bismuth";
    case WeightMetal::lead:
      break;
  }
  return "lead";
}

std::string comb_words(const std::string& name) {
  return name.starts_with("comb") || name.starts_with("Comb") ? name : "comb " + name;
}

std::vector<Track> tracks(const Box& box) {
  const auto count = static_cast<std::size_t>(box.tracks.count);
  std::vector<Track> result(count);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t place = box.tracks.bass == BassSide::inner ? i : count - 1 - i;
    result[i] = {
        .number = static_cast<int>(i) + 1,
        .radius_m = box.tracks.inner_radius_m + static_cast<double>(i) * box.tracks.pitch_m,
        .midi = box.scale.midi[place]};
  }
  return result;
}

}  // namespace combwright::box
