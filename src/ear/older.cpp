// SPDX-License-Identifier: Apache-2.0
#include "ear/older.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>

#include <Eigen/Dense>

#include "base/angle.h"
#include "ear/ring_search.h"
#include "ear/ring_spectrum.h"
#include "ear/samples.h"
#include "ear/stretch.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;
using Index = Eigen::Index;

// Rings carried back to an earlier stretch, as they would stand there had they rung already; its
// bins near them, and what it holds. All over the noise of each bin.
struct CarriedBack {
  Eigen::MatrixXcd rings;  // a column each
  Eigen::VectorXcd heard;
};

std::vector<std::size_t> bins_near(const Stretch& stretch, const std::vector<Ring>& rings) {
  constexpr double reach_bins = 4.0;
  const auto last = static_cast<double>(stretch.spectrum.size()) - 1.0;
  std::vector<std::size_t> bins;
  for (const Ring& ring : rings) {
    const double place = ring.frequency_hz / stretch.bin_hz();
    const double reach = reach_bins + std::abs(ring.decay_per_s) / two_pi / stretch.bin_hz();
    const auto low = static_cast<std::size_t>(std::clamp(place - reach, 1.0, last));
    const auto high = static_cast<std::size_t>(std::clamp(place + reach, 1.0, last));
    for (std::size_t bin = low; bin <= high; ++bin) bins.push_back(bin);
  }
  std::sort(bins.begin(), bins.end());
  bins.erase(std::unique(bins.begin(), bins.end()), bins.end());
  return bins;
}

// The power of noise in each bin, by few bins around it where that is more: a room's noise falls
// steeply.
std::vector<double> noise_at(const std::vector<std::size_t>& bins, const Stretch& before) {
  constexpr std::size_t to_each_side = 10;
  const std::vector<double> floor = noise_floor(before);
  std::vector<double> noise;
  noise.reserve(bins.size());
  std::vector<double> powers;
  for (const std::size_t bin : bins) {
    powers.clear();
    const std::size_t end = std::min(bin + to_each_side + 1, before.spectrum.size());
    for (std::size_t k = bin > to_each_side ? bin - to_each_side : 1; k < end; ++k)
      powers.push_back(std::norm(before.spectrum[k]));
    const auto middle = powers.begin() + static_cast<std::ptrdiff_t>(powers.size() / 2);
    std::nth_element(powers.begin(), middle, powers.end());
    // Powers of noise are exponentially distributed.
    noise.push_back(std::max(floor[bin], *middle / std::numbers::ln2));
  }
  return noise;
}

CarriedBack carried_back(const Stretch& before, const std::vector<Ring>& rings, double back_s) {
  std::vector<Ring> early;
  early.reserve(rings.size());
  for (const Ring& ring : rings) early.push_back(later(ring, -back_s));
  const std::vector<std::size_t> bins = bins_near(before, early);
  const std::vector<double> noise = noise_at(bins, before);
  CarriedBack carried{{static_cast<Index>(bins.size()), static_cast<Index>(rings.size())},
                      Eigen::VectorXcd(static_cast<Index>(bins.size()))};
  for (std::size_t b = 0; b < bins.size(); ++b)
    carried.heard[static_cast<Index>(b)] = before.spectrum[bins[b]] / std::sqrt(noise[b]);
  const std::vector<Complex> turns = turns_of(bins, before.samples);
  for (std::size_t r = 0; r < early.size(); ++r) {
    const RingSpectrum spectrum(early[r], before);
    for (std::size_t b = 0; b < bins.size(); ++b)
      carried.rings(static_cast<Index>(b), static_cast<Index>(r)) =
          spectrum.at(turns[b]) / std::sqrt(noise[b]);
  }
  return carried;
}

// Which of the carried rings together explain most of what was heard, by single changes from
// `chosen` on.
struct Choice {
  std::vector<bool> chosen;
  double squares = 0.0;  // left, over those with none chosen
};

Choice best_from(const Eigen::MatrixXcd& products, const Eigen::VectorXcd& matches,
                 std::vector<bool> chosen) {
  const Index count = matches.size();
  const auto is = [&](Index r) { return chosen[static_cast<std::size_t>(r)] ? 1.0 : 0.0; };
  const auto gain = [&](Index r) {  // of taking it in beside the others
    double sum = 2.0 * matches[r].real() - products(r, r).real();
    for (Index q = 0; q < count; ++q)
      if (q != r) sum -= 2.0 * is(q) * products(r, q).real();
    return sum;
  };
  for (Index changes = 0; changes < 4 * count; ++changes) {
    Index best = 0;
    double most = 0.0;
    for (Index r = 0; r < count; ++r) {
      const double by = is(r) > 0.0 ? -gain(r) : gain(r);
      if (by > most) {
        most = by;
        best = r;
      }
    }
    if (!(most > 0.0)) break;
    chosen[static_cast<std::size_t>(best)].flip();
  }
  Choice choice{chosen, 0.0};
  for (Index r = 0; r < count; ++r) {
    choice.squares -= 2.0 * is(r) * matches[r].real();
    for (Index q = 0; q < count; ++q) choice.squares += is(r) * is(q) * products(r, q).real();
  }
  return choice;
}

// Whether a ring goes on from before: `share` is how much of it as carried back was there, of
// standard deviation `share_spread`; `back_s` the way back to the middle of that time.
std::optional<bool> goes_on(Complex share, double share_spread, const RingSpread& spread,
                            double back_s) {
  constexpr double most_spread = 0.15;
  constexpr double most_change = 0.5;
  if (share_spread > most_spread * std::max(1.0, std::abs(share))) return {};
  // What its pole is not known by may have grown in between.
  constexpr double sigmas = 3.0;
  const auto beyond = [back_s](double change, double rate) {
    return std::copysign(std::max(0.0, std::abs(change) - sigmas * rate * back_s), change);
  };
  const double grown = beyond(std::log(std::abs(share)), spread.decay_per_s);
  const double turned = beyond(std::arg(share), two_pi * spread.frequency_hz);
  const Complex change = std::exp(Complex(grown, turned));
  return std::abs(change - 1.0) < most_change * std::max(1.0, std::abs(change));
}

}  // namespace

std::vector<std::optional<bool>> find_older(std::span<const double> samples, double rate_hz,
                                            const RingFit& fit, std::size_t from,
                                            std::size_t earliest, std::size_t latest) {
  assert(earliest <= latest && latest <= from);
  constexpr double longest_s = 0.7;
  constexpr double shortest_s = 0.03;
  // What dies faster than by e to this on the way back would not be heard any more.
  constexpr double most_died = 20.0;
  std::vector<std::optional<bool>> older(fit.rings.size());
  const std::size_t longest = samples_in(longest_s, rate_hz);
  const std::size_t begin = std::max(earliest, latest > longest ? latest - longest : 0);
  if (static_cast<double>(latest - begin) < shortest_s * rate_hz) return older;
  const Stretch before = stretch_of(samples.subspan(begin, latest - begin), rate_hz);
  const double back_s = static_cast<double>(from - begin) / rate_hz;

  std::vector<Ring> slow;
  std::vector<RingSpread> spreads;
  std::vector<std::size_t> place;
  for (std::size_t r = 0; r < fit.rings.size(); ++r) {
    if (fit.rings[r].decay_per_s * back_s > most_died) {
      older[r] = false;
    } else {
      slow.push_back(fit.rings[r]);
      spreads.push_back(fit.spreads[r]);
      place.push_back(r);
    }
  }
  if (slow.empty()) return older;
  const CarriedBack carried = carried_back(before, slow, back_s);
  const Eigen::MatrixXcd products = carried.rings.adjoint() * carried.rings;
  const Eigen::VectorXcd matches = carried.rings.adjoint() * carried.heard;
  const Choice few = best_from(products, matches, std::vector<bool>(slow.size(), false));
  const Choice many = best_from(products, matches, std::vector<bool>(slow.size(), true));
  const std::vector<bool>& chosen = few.squares <= many.squares ? few.chosen : many.chosen;
  for (std::size_t i = 0; i < slow.size(); ++i) {
    const auto r = static_cast<Index>(i);
    Complex match = matches[r];
    for (std::size_t q = 0; q < slow.size(); ++q)
      if (q != i && chosen[q]) match -= products(r, static_cast<Index>(q));
    const double square = products(r, r).real();
    older[place[i]] = goes_on(match / square, 1.0 / std::sqrt(square), spreads[i],
                              back_s - 0.5 * before.seconds());
  }
  return older;
}

}  // namespace combwright::ear
