// SPDX-License-Identifier: Apache-2.0
#include "music/pitch.h"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace combwright::music {

std::string note_name(int midi) {
  assert(midi >= 0 && midi <= 127);
  static constexpr std::array names = {"C",  "C#", "D",  "Eb", "E",  "F",
                                       "F#", "G",  "G#", "A",  "Bb", "B"};
  return fmt::format("{}{}", names[static_cast<std::size_t>(pitch_class(midi))], midi / 12 - 1);
}

std::optional<int> parse_note(std::string_view name) {
  if (name.empty()) return std::nullopt;
  static constexpr std::string_view letters = "C D EF G A B";
  const std::size_t step = letters.find(name.front());
  if (step == std::string_view::npos || name.front() == ' ') return std::nullopt;
  name.remove_prefix(1);
  int alteration = 0;
  if (!name.empty() && (name.front() == '#' || name.front() == 'b')) {
    alteration = name.front() == '#' ? 1 : -1;
    name.remove_prefix(1);
  }
  int octave = 0;
  const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), octave);
  if (error != std::errc{} || end != name.data() + name.size() || octave < -1 || octave > 9)
    return std::nullopt;
  const int midi = (octave + 1) * 12 + static_cast<int>(step) + alteration;
  if (midi < 0 || midi > 127) return std::nullopt;
  return midi;
}

double equal_tempered_hz(int midi, double a4_hz) {
  return a4_hz * std::exp2((midi - 69) / 12.0);
}

std::optional<NearestNote> nearest_note(double frequency_hz, double a4_hz) {
  assert(frequency_hz > 0.0 && a4_hz > 0.0);
  const double semitones = 69.0 + 12.0 * std::log2(frequency_hz / a4_hz);
  const double nearest = std::round(semitones);
  if (!(nearest >= 0.0 && nearest <= 127.0)) return std::nullopt;
  return NearestNote{static_cast<int>(nearest), 100.0 * (semitones - nearest)};
}

}  // namespace combwright::music
