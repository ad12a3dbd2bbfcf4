// SPDX-License-Identifier: Apache-2.0
#include "ear/older.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>

#include "ear/stretch.h"

namespace combwright::ear {
namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;

// Whether a ring is the one that was held before, `apart_s` earlier in the mean. Both amplitudes
// count from the onset's side.
std::optional<bool> is_older(const Ring& ring, const RingSpread& spread, const HeldRing& before,
                             double apart_s) {
  constexpr double most_spread = 0.15;  // of the amplitude
  constexpr double most_change = 0.5;
  const double size = std::abs(before.amplitude);
  const double greater = std::max(size, ring.amplitude);
  if (before.spread > most_spread * greater) return {};
  // What its pole is not known by may have grown in between.
  constexpr double sigmas = 3.0;
  const auto beyond = [apart_s](double change, double rate) {
    return std::copysign(std::max(0.0, std::abs(change) - sigmas * rate * apart_s), change);
  };
  const double grown = beyond(std::log(size / ring.amplitude), spread.decay_per_s);
  const double turned = beyond(std::remainder(std::arg(before.amplitude) - ring.phase_rad, two_pi),
                               two_pi * spread.frequency_hz);
  const std::complex<double> change = std::exp(std::complex<double>(grown, turned));
  return std::abs(change - 1.0) < most_change * std::max(1.0, std::abs(change));
}

}  // namespace

std::vector<std::optional<bool>> find_older(std::span<const double> samples, double rate_hz,
                                            const RingFit& fit, std::size_t from,
                                            std::size_t earliest, std::size_t latest) {
  assert(earliest <= latest && latest <= from);
  constexpr double longest_s = 0.7;
  constexpr double shortest_s = 0.03;
  std::vector<std::optional<bool>> older(fit.rings.size());
  const auto longest = static_cast<std::size_t>(longest_s * rate_hz);
  const std::size_t begin = std::max(earliest, latest > longest ? latest - longest : 0);
  if (static_cast<double>(latest - begin) < shortest_s * rate_hz) return older;
  const Stretch before = stretch_of(samples.subspan(begin, latest - begin), rate_hz);
  const std::vector<HeldRing> held = hold_rings(before, fit.rings);
  const double later_s = static_cast<double>(from - begin) / rate_hz;
  for (std::size_t r = 0; r < fit.rings.size(); ++r) {
    const Ring& ring = fit.rings[r];
    const std::complex<double> moved =
        std::exp(std::complex<double>(-ring.decay_per_s, two_pi * ring.frequency_hz) * later_s);
    older[r] = is_older(ring, fit.spreads[r],
                        {held[r].amplitude * moved, held[r].spread * std::abs(moved)},
                        later_s - 0.5 * before.seconds());
  }
  return older;
}

}  // namespace combwright::ear
