// SPDX-License-Identifier: Apache-2.0
#include "draw/words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include <fmt/core.h>

#include "base/quantity.h"
#include "box/target.h"
#include "draw/plain_text.h"
#include "music/pitch.h"

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

std::string cents_words(double cents) {
  return fmt::format("{:.4g} cent{}", cents, cents == 1.0 ? "" : "s");
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

std::string in_mm(double length_m, int decimals) {
  return fmt::format("{:.{}f}", length_m * 1e3, decimals);
}

std::string_view fate_words(arrange::Fate fate) {
  switch (fate) {
    case arrange::Fate::octave:
      return "an octave or two away";
    case arrange::Fate::dropped:
      return "left out";
    case arrange::Fate::kept:
    case arrange::Fate::moved:
      break;
  }
  return arrange::to_text(fate);
}

std::string plate_words(const box::Comb& comb, const steel::Plate& plate) {
  const auto length = [](double metres) { return to_text(metres, Dimension::length); };
  std::string words = fmt::format("{} wide, {} deep, {} thick", length(plate.width_m),
                                  length(plate.depth_m), length(comb.plate_thickness_m));
  const std::vector<double>& screws = plate.screw_radius_m;
  if (screws.empty()) return words;
  words += fmt::format("; {} of {}, {} from the back edge", counted(screws.size(), "screw hole"),
                       length(comb.screw_hole_m), length(plate.depth_m - plate.screws_from_tips_m));
  const double from_side_m = screws.front() - plate.inner_radius_m;
  if (screws.size() == 1) return words + fmt::format(" and {} from the sides", length(from_side_m));
  return words + fmt::format(" and {} apart, the outer ones {} from the sides",
                             length(screws[1] - screws[0]), length(from_side_m));
}

std::string pitch_words(const box::Box& box, std::size_t comb) {
  const box::Scale& scale = box.scale;
  const bool equal = scale.scl.empty() && scale.temperament == box::NamedTemperament::equal;
  const std::string temperament = box::temperament_words(scale);
  std::string words = fmt::format("A4 {:.5g} Hz, {}, at {}", scale.a4_hz,
                                  equal ? temperament + " temperament" : "tuned to " + temperament,
                                  to_text(scale.temperature_c, Dimension::temperature));
  const box::Comb& own = box.combs[comb];
  const auto hz = [&](const box::Comb& of, int midi) { return box::target_hz(box, of, midi); };
  if (own.offset_cents != 0.0) {
    words += fmt::format("; this comb {} {}", cents_words(std::abs(own.offset_cents)),
                         own.offset_cents > 0.0 ? "above" : "below");
  }
  constexpr int a4 = 69;
  constexpr double unheard_hz = 5e-3;
  if (std::abs(hz(own, a4) - scale.a4_hz) > unheard_hz)
    words +=
        fmt::format("{} its A4 at {:.2f} Hz", own.offset_cents != 0.0 ? "," : ";", hz(own, a4));
  if (comb == 0) return words;
  const auto [lowest, highest] = std::minmax_element(scale.midi.begin(), scale.midi.end());
  const auto beat_hz = [&](int midi) { return std::abs(hz(own, midi) - hz(box.combs[0], midi)); };
  if (std::max(beat_hz(*lowest), beat_hz(*highest)) < unheard_hz) return words;
  return words + fmt::format("; beats with {}: {:.2f} Hz at {}, {:.2f} Hz at {}",
                             box::comb_words(label(box.combs[0].name, 40)), beat_hz(*lowest),
                             music::note_name(*lowest), beat_hz(*highest),
                             music::note_name(*highest));
}

std::string tracks_words(const steel::LeadCut& cut, const std::vector<steel::CombDesign>& designs) {
  std::string words;
  std::size_t comb = designs.size();
  for (const steel::ToothPlace& tooth : cut.teeth) {
    if (tooth.comb == comb) {
      words += ", ";
    } else {
      words += words.empty() ? "" : "; ";
      if (designs.size() > 1) words += label(designs[tooth.comb].name, 40) + " ";
    }
    comb = tooth.comb;
    words += fmt::format("{}", tooth.track);
  }
  return words;
}

std::string duration_words(double seconds) {
  const auto whole = std::llround(seconds);
  if (whole < 60) return fmt::format("{} s", whole);
  if (whole < 3600) return fmt::format("{} min {} s", whole / 60, whole % 60);
  return fmt::format("{} h {} min", whole / 3600, whole % 3600 / 60);
}

}  // namespace combwright::draw
