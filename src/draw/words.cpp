// SPDX-License-Identifier: Apache-2.0
#include "draw/words.h"

#include <array>
#include <cmath>
#include <cstdlib>

#include <fmt/core.h>

#include "base/quantity.h"

namespace combwright::draw {
namespace {

constexpr std::array<std::string_view, 12> intervals{"",
                                                     "a semitone",
                                                     "a whole tone",
                                                     "a minor third",
                                                     "a major third",
                                                     "a fourth",
                                                     "a tritone",
                                                     "a fifth",
                                                     "a minor sixth",
                                                     "a major sixth",
                                                     "a minor seventh",
                                                     "a major seventh"};

std::string interval_words(int semitones) {
  const int octaves = semitones / 12;
  const auto rest = intervals.at(static_cast<std::size_t>(semitones % 12));
  if (octaves == 0) return std::string(rest);
  const auto whole = octaves == 1 ? std::string("an octave") : fmt::format("{} octaves", octaves);
  return rest.empty() ? whole : fmt::format("{} and {}", whole, rest);
}

}  // namespace

std::string transposition_words(int semitones) {
  if (semitones == 0) return "not transposed";
  const int size = std::abs(semitones);
  auto figure = fmt::format("{:+} semitone{}", semitones, size == 1 ? "" : "s");
  if (size == 1) return figure;
  return fmt::format("{}, {} {}", figure, semitones > 0 ? "up" : "down", interval_words(size));
}

std::string tempo_words(double tempo_factor) {
  constexpr double unheard = 5e-4;
  const double change = tempo_factor - 1.0;
  if (std::abs(change) < unheard) return "as written";
  return fmt::format("{:.3g} % {}", std::abs(change) * 100.0, change > 0.0 ? "faster" : "slower");
}

std::string counted(std::size_t count, const std::string& noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string plate_words(const box::Comb& comb, const steel::Plate& plate) {
  const auto length = [](double metres) { return to_text(metres, Dimension::length); };
  std::string words = fmt::format("{} wide, {} deep, {} thick", length(plate.width_m),
                                  length(plate.depth_m), length(comb.plate_thickness_m));
  const std::size_t screws = plate.screw_radius_m.size();
  if (screws > 0)
    words += fmt::format(", {} of {}", counted(screws, "screw hole"), length(comb.screw_hole_m));
  return words;
}

std::string duration_words(double seconds) {
  const auto whole = std::llround(seconds);
  if (whole < 60) return fmt::format("{} s", whole);
  if (whole < 3600) return fmt::format("{} min {} s", whole / 60, whole % 60);
  return fmt::format("{} h {} min", whole / 3600, whole % 3600 / 60);
}

}  // namespace combwright::draw
