// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_search.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "base/angle.h"
#include "ear/ring_spectrum.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;

// Power of a bin over the noise's mean. The power of noise is exponential: of 10^5 bins one is
// above ln(10^8) = 18 once in a thousand recordings.
constexpr double least_power = 18.0;
// A peak must stand so far above the foot of a stronger one, in power.
constexpr double least_over_foot = 6.0;

// Half width of a ring's peak in bins, its decay alone.
double half_width_bins(const Ring& ring, const Stretch& stretch) {
  return std::abs(ring.decay_per_s) / two_pi / stretch.bin_hz();
}

// The pole of a lone ring from two bins of its peak: their ratio is (1 - z t') / (1 - z t).
// `spectrum` begins at the bin `first`.
Ring ring_by_bins(const Stretch& stretch, std::size_t first, const std::vector<Complex>& spectrum,
                  std::size_t top) {
  const std::size_t other =
      std::norm(spectrum[top + 1]) > std::norm(spectrum[top - 1]) ? top + 1 : top - 1;
  const Complex turn = turn_of(first + top, stretch.samples);
  const Complex next = turn_of(first + other, stretch.samples);
  const auto place = static_cast<double>(first + top);
  const Complex ratio = spectrum[top] / spectrum[other];
  const Complex z = (ratio - 1.0) / (ratio * turn - next);
  const auto samples = static_cast<double>(stretch.samples);
  const Complex step = std::log(z);
  double turned = std::arg(z) * samples / two_pi;
  double decay = -step.real();
  // Noise, a neighbour or a pure tone may give what can't be: a peak is where its greatest bin is.
  if (!std::isfinite(decay) || !(std::abs(turned - place) <= 1.0)) turned = place;
  if (!(decay > 0.0)) decay = 1.0 / samples;
  decay = std::min(decay, two_pi * 8.0 / samples);
  return {turned * stretch.bin_hz(), decay * stretch.rate_hz,
          2.0 * std::abs(spectrum[top]) *
              std::abs(1.0 - std::exp(Complex(-decay, two_pi * turned / samples)) * turn),
          0.0};
}

// Power that a ring's Lorentzian has at a bin, of that at its top.
double foot(const Ring& ring, const Stretch& stretch, double top, double bin) {
  const double width = half_width_bins(ring, stretch) + 1.0;
  const double off = (bin - top) / width;
  return 1.0 / (1.0 + off * off);
}

struct Peak {
  std::size_t bin;
  double power;
};

// Local tops in descending order of power.
std::vector<Peak> tops(const std::vector<double>& power, const std::vector<double>& floor,
                       std::size_t low, std::size_t high) {
  std::vector<Peak> found;
  for (std::size_t k = std::max<std::size_t>(low, 1); k < high && k + 1 < power.size(); ++k) {
    if (power[k] > least_power * floor[k] && power[k] >= power[k - 1] && power[k] > power[k + 1])
      found.push_back({k, power[k]});
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Peak& a, const Peak& b) { return a.power > b.power; });
  return found;
}

std::vector<double> powers(const std::vector<Complex>& spectrum) {
  std::vector<double> power;
  power.reserve(spectrum.size());
  for (const Complex& bin : spectrum) power.push_back(std::norm(bin));
  return power;
}

// Of exponentially distributed values.
double mean_by_median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle / std::numbers::ln2;
}

std::size_t bin_of(double frequency_hz, const Stretch& stretch) {
  const double bin = std::clamp(frequency_hz / stretch.bin_hz(), 0.0,
                                static_cast<double>(stretch.spectrum.size() - 1));
  return static_cast<std::size_t>(bin);
}

// Rings whose fit ran away, or that are no more than the noise around them.
bool is_real(const Stretch& stretch, const Ring& guess, const Ring& ring,
             const RingSpread& spread) {
  // Few, as two tones that one ring is fitted to count as noise around it.
  constexpr double least_sigmas = 2.0;
  const double room = std::max(4.0 * stretch.bin_hz(), 2.0 * guess.decay_per_s / two_pi);
  return std::isfinite(ring.frequency_hz) && std::isfinite(spread.frequency_hz) &&
         std::abs(ring.frequency_hz - guess.frequency_hz) < room && ring.amplitude > 0.0 &&
         spread.amplitude < 1.0 / least_sigmas;
}

// Marks the weakest of each group of rings that disturb each other's fit.
std::vector<bool> weakest_nearby(const std::vector<Ring>& rings, const std::vector<bool>& among,
                                 double near_hz) {
  std::vector<bool> marked = among;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    for (std::size_t j = 0; j < rings.size() && marked[i]; ++j)
      marked[i] = !(among[j] && rings[j].amplitude < rings[i].amplitude &&
                    std::abs(rings[j].frequency_hz - rings[i].frequency_hz) < near_hz);
  }
  return marked;
}

// Of the guesses, those that the fit confirms; the fit is made anew without the others, the weaker
// ones first, as they may have led the stronger astray.
RingFit confirmed(const Stretch& stretch, std::vector<Ring> guesses) {
  constexpr double near_bins = 60.0;
  while (!guesses.empty()) {
    RingFit fit = fit_rings(stretch, guesses);
    std::vector<bool> lost;
    for (std::size_t i = 0; i < guesses.size(); ++i)
      lost.push_back(!is_real(stretch, guesses[i], fit.rings[i], fit.spreads[i]));
    const std::vector<bool> dropped = weakest_nearby(guesses, lost, near_bins * stretch.bin_hz());
    std::vector<Ring> kept;
    for (std::size_t i = 0; i < guesses.size(); ++i)
      if (!dropped[i]) kept.push_back(lost[i] ? guesses[i] : fit.rings[i]);
    if (kept.size() == guesses.size()) return fit;
    guesses = std::move(kept);
  }
  return {};
}

// What is left of the spectrum from one bin on.
struct Rest {
  std::size_t low = 0;
  std::vector<Complex> spectrum;
};

Rest rest_near(const Stretch& stretch, const std::vector<Ring>& rings, const Ring& ring) {
  // Wide enough for a whole tone beside a low tooth.
  constexpr double reach_share = 0.13;
  constexpr double least_reach_hz = 20.0;
  constexpr double least_bins = 30.0;
  const double reach =
      std::max({least_reach_hz, reach_share * ring.frequency_hz, least_bins * stretch.bin_hz()});
  const std::size_t low = bin_of(std::max(lowest_ring_hz, ring.frequency_hz - reach), stretch);
  const std::size_t high = bin_of(ring.frequency_hz + reach, stretch);
  Rest rest{low,
            {stretch.spectrum.begin() + static_cast<std::ptrdiff_t>(low),
             stretch.spectrum.begin() + static_cast<std::ptrdiff_t>(high)}};
  const std::vector<Complex> turns = turns_from(low, rest.spectrum.size(), stretch.samples);
  for (const Ring& other : rings) RingSpectrum(other, stretch).take_from(rest.spectrum, turns);
  return rest;
}

// What is left right at a ring is its own departure from a decaying sinusoid.
bool at_one_of(const std::vector<Ring>& rings, const Stretch& stretch, double frequency_hz) {
  return std::any_of(rings.begin(), rings.end(), [&](const Ring& ring) {
    const double room = 1.5 * stretch.bin_hz() + 2.0 * std::abs(ring.decay_per_s) / two_pi;
    return std::abs(ring.frequency_hz - frequency_hz) < room;
  });
}

// What still stands out close to the rings, at most one peak near each of them.
std::vector<Ring> left_out(const Stretch& stretch, const std::vector<Ring>& rings) {
  std::vector<Ring> found;
  for (const Ring& ring : rings) {
    const Rest rest = rest_near(stretch, rings, ring);
    if (rest.spectrum.size() < 8) continue;
    const std::vector<double> power = powers(rest.spectrum);
    const std::vector<double> floor(power.size(), mean_by_median(power));
    for (const Peak& peak : tops(power, floor, 1, power.size() - 1)) {
      const Ring fresh = ring_by_bins(stretch, rest.low, rest.spectrum, peak.bin);
      if (at_one_of(rings, stretch, fresh.frequency_hz) ||
          at_one_of(found, stretch, fresh.frequency_hz))
        continue;
      found.push_back(fresh);
      break;
    }
  }
  return found;
}

}  // namespace

std::vector<double> noise_floor(const Stretch& stretch) {
  // Many bins beside the widest peaks, and narrow beside the slope of a room's noise.
  constexpr double block_hz = 150.0;
  constexpr std::size_t least_block = 48;
  const std::vector<double> power = powers(stretch.spectrum);
  const std::size_t block =
      std::max(least_block, static_cast<std::size_t>(block_hz / stretch.bin_hz()));
  std::vector<double> means;
  for (std::size_t low = 0; low < power.size(); low += block) {
    const std::size_t end = std::min(low + block, power.size());
    if (end - low < least_block / 2 && !means.empty()) break;
    means.push_back(mean_by_median({power.begin() + static_cast<std::ptrdiff_t>(low),
                                    power.begin() + static_cast<std::ptrdiff_t>(end)}));
  }
  // Never nothing at all: digital silence has no noise to compare with.
  const double least = 1e-26 * *std::max_element(power.begin(), power.end()) + 1e-300;
  std::vector<double> floor(power.size());
  for (std::size_t k = 0; k < floor.size(); ++k) {
    const double place =
        std::clamp((static_cast<double>(k) + 0.5) / static_cast<double>(block) - 0.5, 0.0,
                   static_cast<double>(means.size() - 1));
    const auto left = static_cast<std::size_t>(place);
    const std::size_t right = std::min(left + 1, means.size() - 1);
    const double share = place - static_cast<double>(left);
    floor[k] = std::max(least, (1.0 - share) * means[left] + share * means[right]);
  }
  return floor;
}

std::vector<Ring> find_peaks(const Stretch& tapered) {
  const std::vector<double> power = powers(tapered.spectrum);
  const std::vector<double> floor = noise_floor(tapered);
  std::vector<Ring> rings;
  std::vector<Peak> taken;
  for (const Peak& peak : tops(power, floor, bin_of(lowest_ring_hz, tapered) + 1, power.size())) {
    if (rings.size() == most_rings) break;
    const auto bin = static_cast<double>(peak.bin);
    bool under_another = false;
    for (std::size_t i = 0; i < rings.size() && !under_another; ++i) {
      const auto top = static_cast<double>(taken[i].bin);
      under_another =
          peak.power < least_over_foot * taken[i].power * foot(rings[i], tapered, top, bin);
    }
    if (under_another) continue;
    rings.push_back(ring_by_bins(tapered, 0, tapered.spectrum, peak.bin));
    taken.push_back(peak);
  }
  return rings;
}

RingFit fit_all(const Stretch& stretch, std::vector<Ring> guesses) {
  constexpr int most_rounds = 3;
  RingFit fit = confirmed(stretch, std::move(guesses));
  for (int round = 0; round < most_rounds && !fit.rings.empty(); ++round) {
    std::vector<Ring> all = fit.rings;
    for (const Ring& ring : left_out(stretch, fit.rings))
      if (all.size() < most_rings) all.push_back(ring);
    if (all.size() == fit.rings.size()) break;
    const std::size_t before = fit.rings.size();
    RingFit tried = confirmed(stretch, std::move(all));
    if (tried.rings.size() <= before) break;
    fit = std::move(tried);
  }
  return fit;
}

}  // namespace combwright::ear
