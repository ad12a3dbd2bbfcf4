// SPDX-License-Identifier: Apache-2.0
#include "tuner/whose.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "music/pitch.h"
#include "steel/pitch_range.h"

namespace combwright::tuner {
namespace {

// A pitch so near to where a tooth's may lie is taken for it without asking what else it could be;
// further off, a tooth that it is so near to goes first. Both as in ear/take.h.
constexpr double sure_cents = 80.0;
constexpr double fits_cents = 60.0;
constexpr std::size_t most_tracks = 3;

double outside_cents(const steel::PitchRange& range, double hz) {
  const double low_hz = std::min(range.as_cut_hz, range.target_hz);
  const double high_hz = std::max(range.as_cut_hz, range.target_hz);
  return std::max({0.0, music::cents(low_hz / hz), music::cents(hz / high_hz)});
}

}  // namespace

Whose whose(const steel::CombDesign& design, double temperature_c, std::size_t tooth,
            std::optional<double> last_hz, double heard_hz) {
  const std::vector<steel::PitchRange> ranges = steel::pitch_ranges(design, temperature_c);
  const double off = last_hz ? std::abs(music::cents(heard_hz / *last_hz))
                             : outside_cents(ranges[tooth], heard_hz);
  Whose answer{.of_tooth = off <= sure_cents, .tracks = {}};
  if (answer.of_tooth) return answer;
  std::vector<std::pair<double, int>> fitting;
  for (std::size_t i = 0; i < ranges.size(); ++i) {
    const double outside = outside_cents(ranges[i], heard_hz);
    if (i != tooth && outside <= fits_cents) fitting.emplace_back(outside, design.teeth[i].track);
  }
  std::sort(fitting.begin(), fitting.end());
  for (std::size_t i = 0; i < std::min(fitting.size(), most_tracks); ++i)
    answer.tracks.push_back(fitting[i].second);
  answer.of_tooth = off <= another_tooth_cents && fitting.empty();
  return answer;
}

}  // namespace combwright::tuner
