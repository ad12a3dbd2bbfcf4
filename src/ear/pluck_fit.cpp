// SPDX-License-Identifier: Apache-2.0
#include "ear/pluck_fit.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "ear/older.h"
#include "ear/onsets.h"
#include "ear/ring_search.h"
#include "ear/samples.h"

namespace combwright::ear {
namespace {

// Past the onset's error and the click.
constexpr double settle_s = 0.025;
constexpr double look_s = 1.0;
// The bass of a large comb is down by more than 60 dB after so long.
constexpr double longest_s = 8.0;
constexpr double rise_s = 0.015;

std::size_t start_of(const Place& place, double rate_hz) {
  return std::max(place.free, place.around + samples_in(settle_s, rate_hz));
}

std::vector<std::optional<bool>> older_in(std::span<const double> samples, double rate_hz,
                                          const Place& place, const PluckFit& pluck) {
  const std::size_t slack = samples_in(onset_error_s, rate_hz);
  return find_older(samples, rate_hz, pluck.fit, pluck.from, place.earliest,
                    std::max(place.earliest, place.around > slack ? place.around - slack : 0));
}

void sort_rings(PluckFit& pluck, const std::vector<std::optional<bool>>& older, double rate_hz,
                std::optional<double> near_hz) {
  const double since_s =
      (static_cast<double>(pluck.from) - static_cast<double>(pluck.beginning.onset)) / rate_hz;
  for (std::size_t r = 0; r < pluck.fit.rings.size(); ++r)
    pluck.rings.push_back({pluck.fit.rings[r], pluck.fit.spreads[r],
                           later(pluck.fit.rings[r], -since_s).amplitude, older[r]});
  pluck.kinds = tell_kinds(pluck.rings, pluck.stretch.seconds(), near_hz);
}

}  // namespace

bool long_enough(const Place& place, double rate_hz) {
  return start_of(place, rate_hz) + samples_in(shortest_look_s, rate_hz) <= place.end;
}

PluckFit first_look(std::span<const double> samples, double rate_hz, const Place& place,
                    std::optional<double> near_hz) {
  assert(long_enough(place, rate_hz));
  PluckFit look;
  look.from = start_of(place, rate_hz);
  const std::span<const double> part =
      samples.subspan(look.from, std::min(place.end - look.from, samples_in(look_s, rate_hz)));
  look.stretch = stretch_of(part, rate_hz);
  look.fit = fit_all(look.stretch, find_peaks(tapered_stretch_of(part, rate_hz, rise_s)));
  if (look.fit.rings.empty()) return look;
  const std::vector<std::optional<bool>> older = older_in(samples, rate_hz, place, look);
  look.beginning = find_beginning(samples.first(place.end), rate_hz, look.fit.rings, older,
                                  look.from, place.around, place.earliest);
  sort_rings(look, older, rate_hz, near_hz);
  return look;
}

PluckFit whole_fit(std::span<const double> samples, double rate_hz, const Place& place,
                   const PluckFit& look, std::optional<double> near_hz) {
  PluckFit whole;
  whole.beginning = look.beginning;
  whole.from = std::max(place.free, look.beginning.clean);
  whole.stretch = stretch_of(
      samples.subspan(whole.from, std::min(place.end - whole.from, samples_in(longest_s, rate_hz))),
      rate_hz);
  const double moved_s =
      (static_cast<double>(whole.from) - static_cast<double>(look.from)) / rate_hz;
  std::vector<Ring> guesses;
  for (const Ring& ring : look.fit.rings) guesses.push_back(later(ring, moved_s));
  whole.fit = fit_all(whole.stretch, guesses);
  if (whole.fit.rings.empty()) return look;
  sort_rings(whole, older_in(samples, rate_hz, place, whole), rate_hz, near_hz);
  return whole.kinds.own ? whole : look;
}

}  // namespace combwright::ear
