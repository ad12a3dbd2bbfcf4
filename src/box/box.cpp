// SPDX-License-Identifier: Apache-2.0
#include "box/box.h"

#include <fmt/format.h>

#include "music/pitch.h"

namespace combwright::box {

std::string_view to_text(Plucked plucked) {
  return plucked == Plucked::down ? "down" : "up";
}

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

std::string_view to_text(NamedTemperament temperament) {
  switch (temperament) {
    case NamedTemperament::quarter_comma_meantone:
      return "quarter-comma meantone";
    case NamedTemperament::werckmeister_3:
      return "Werckmeister III";
    case NamedTemperament::vallotti:
      return "Vallotti";
    case NamedTemperament::equal:
      break;
  }
  return "equal";
}

namespace {

music::Temperament named(NamedTemperament temperament) {
  switch (temperament) {
    case NamedTemperament::quarter_comma_meantone:
      return music::quarter_comma_meantone();
    case NamedTemperament::werckmeister_3:
      return music::werckmeister_3();
    case NamedTemperament::vallotti:
      return music::vallotti();
    case NamedTemperament::equal:
      break;
  }
  return music::equal_temperament();
}

}  // namespace

music::Temperament temperament(const Scale& scale) {
  return music::from_tonic(scale.scl_notes.value_or(named(scale.temperament)), scale.tonic);
}

std::string temperament_words(const Scale& scale) {
  const bool equal = scale.scl.empty() && scale.temperament == NamedTemperament::equal;
  if (equal) return "equal";
  constexpr int c4 = 60;
  const std::string tonic = music::note_name(c4 + scale.tonic);
  return fmt::format("{} from {}",
                     scale.scl.empty() ? to_text(scale.temperament) : std::string_view(scale.scl),
                     tonic.substr(0, tonic.size() - 1));
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
