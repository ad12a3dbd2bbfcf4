// SPDX-License-Identifier: Apache-2.0
#include "ear/pair_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <span>
#include <utility>
#include <vector>

#include "base/angle.h"
#include "ear/ring_spectrum.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;

// Of the F distribution with 4 and many degrees of freedom: chance is beyond once in 10^5 places.
constexpr double least_gain = 8.0;
// A second ring further below the first is its own departure from a decaying sinusoid.
constexpr double least_share = 0.03;
constexpr double rows_of_pair = 8.0;  // unknowns

// The bins around one ring of a fit.
struct Window {
  std::size_t low = 0;
  std::vector<Complex> left;  // what the rings leave

  double squares() const {
    double sum = 0.0;
    for (const Complex& bin : left) sum += std::norm(bin);
    return sum;
  }
  double degrees() const {
    return std::max(1.0, 2.0 * static_cast<double>(left.size()) - rows_of_pair);
  }
};

Window window_at(const Stretch& stretch, const Ring& center, const std::vector<Ring>& rings) {
  const double reach = reach_hz(center, stretch);
  const auto last = static_cast<double>(stretch.spectrum.size() - 1);
  const auto bin_at = [&](double hz) {
    return static_cast<std::size_t>(std::clamp(hz / stretch.bin_hz(), 0.0, last));
  };
  Window window{bin_at(center.frequency_hz - reach), {}};
  const std::size_t high = bin_at(center.frequency_hz + reach);
  for (std::size_t bin = window.low; bin <= high; ++bin)
    window.left.push_back(stretch.spectrum[bin]);
  const std::vector<Complex> turns = turns_from(window.low, window.left.size(), stretch.samples);
  for (const Ring& ring : rings) RingSpectrum(ring, stretch).take_from(window.left, turns);
  return window;
}

std::vector<Ring> without(const std::vector<Ring>& rings, std::size_t own,
                          std::optional<std::size_t> rival) {
  std::vector<Ring> others;
  for (std::size_t r = 0; r < rings.size(); ++r)
    if (r != own && r != rival) others.push_back(rings[r]);
  return others;
}

using Two = std::pair<Ring, Ring>;

// The pair of poles with one decay each that explains most of the window, for several decays.
std::vector<Two> starts(const Stretch& stretch, const Window& window, const Ring& center) {
  const double half_width = std::abs(center.decay_per_s) / two_pi;
  const double range = 2.0 * stretch.bin_hz() + 3.0 * half_width;
  const double step = 0.25 * (stretch.bin_hz() + std::min(half_width, 4.0 * stretch.bin_hz()));
  const auto to_each_side = static_cast<int>(std::min(24.0, std::ceil(range / step)));
  const std::vector<Complex> turns = turns_from(window.low, window.left.size(), stretch.samples);

  std::vector<Two> found;
  for (const double decays : {0.3, 1.5, 4.0, 12.0}) {
    const double decay = decays / stretch.seconds();
    std::vector<double> frequencies;
    std::vector<std::vector<Complex>> columns;
    std::vector<Complex> seen;  // each column's product with the window
    for (int i = -to_each_side; i <= to_each_side; ++i) {
      const double hz = center.frequency_hz + i * step;
      if (hz <= 0.0 || hz >= 0.5 * stretch.rate_hz) continue;
      const PoleSpectrum pole(Complex(-decay, two_pi * hz) / stretch.rate_hz, stretch.samples);
      std::vector<Complex> column;
      Complex product = 0.0;
      for (std::size_t b = 0; b < turns.size(); ++b) {
        column.push_back(pole.at(turns[b]).sum);
        product += std::conj(column.back()) * window.left[b];
      }
      frequencies.push_back(hz);
      columns.push_back(std::move(column));
      seen.push_back(product);
    }
    double most = -1.0;
    Two best;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      for (std::size_t j = i + 1; j < columns.size(); ++j) {
        double ii = 0.0;
        double jj = 0.0;
        Complex ij = 0.0;
        for (std::size_t b = 0; b < turns.size(); ++b) {
          ii += std::norm(columns[i][b]);
          jj += std::norm(columns[j][b]);
          ij += std::conj(columns[i][b]) * columns[j][b];
        }
        const double determinant = ii * jj - std::norm(ij);
        if (!(determinant > 1e-12 * ii * jj)) continue;
        const Complex first = (jj * seen[i] - ij * seen[j]) / determinant;
        const Complex second = (ii * seen[j] - std::conj(ij) * seen[i]) / determinant;
        const double explained = (std::conj(seen[i]) * first + std::conj(seen[j]) * second).real();
        if (explained > most) {
          most = explained;
          best = {{frequencies[i], decay, 2.0 * std::abs(first), std::arg(first)},
                  {frequencies[j], decay, 2.0 * std::abs(second), std::arg(second)}};
        }
      }
    }
    if (most >= 0.0) found.push_back(best);
  }
  return found;
}

// Squares that one ring leaves of two equal ones around it, the second a quarter turn ahead.
double squares_of_one(const Stretch& stretch, const Ring& ring, double apart_hz) {
  Stretch pure{stretch.rate_hz, stretch.samples,
               std::vector<Complex>(stretch.spectrum.size(), 0.0)};
  const double reach = 1.5 * reach_hz(ring, stretch);
  const auto last = static_cast<double>(stretch.spectrum.size() - 1);
  const auto low = static_cast<std::size_t>(
      std::clamp((ring.frequency_hz - reach) / stretch.bin_hz(), 0.0, last));
  const auto high = static_cast<std::size_t>(
      std::clamp((ring.frequency_hz + reach) / stretch.bin_hz(), 0.0, last));
  for (const double side : {-0.5, 0.5}) {
    const Ring half{ring.frequency_hz + side * apart_hz, ring.decay_per_s, 0.5 * ring.amplitude,
                    ring.phase_rad + side * 0.5 * std::numbers::pi};
    const RingSpectrum spectrum(half, stretch);
    for (std::size_t bin = low; bin <= high; ++bin)
      pure.spectrum[bin] += spectrum.at(turn_of(bin, stretch.samples));
  }
  const RingFit fit = fit_rings(pure, {ring});
  return window_at(pure, ring, fit.rings).squares();
}

double least_apart_hz(const Stretch& stretch, const Ring& ring, double noise_square) {
  const double least_squares = 4.0 * least_gain * noise_square;
  double high = stretch.bin_hz() / 256.0;
  const double highest = 8.0 * (stretch.bin_hz() + std::abs(ring.decay_per_s) / two_pi);
  while (squares_of_one(stretch, ring, high) < least_squares) {
    high *= 2.0;
    if (high > highest) return std::numeric_limits<double>::infinity();
  }
  double low = 0.5 * high;
  for (int i = 0; i < 5; ++i) {
    const double middle = 0.5 * (low + high);
    (squares_of_one(stretch, ring, middle) < least_squares ? low : high) = middle;
  }
  return high;
}

bool believable(const Stretch& stretch, const RingFit& fit, std::size_t first, std::size_t second) {
  for (const std::size_t r : {first, second}) {
    if (!(fit.spreads[r].amplitude < 0.25) || !std::isfinite(fit.spreads[r].frequency_hz) ||
        fit.rings[r].decay_per_s * stretch.seconds() < -1.0)
      return false;
  }
  const double a = fit.rings[first].amplitude;
  const double b = fit.rings[second].amplitude;
  return std::min(a, b) > least_share * std::max(a, b);
}

}  // namespace

PairFit fit_pair(const Stretch& stretch, const RingFit& fit, std::size_t own,
                 std::optional<std::size_t> rival) {
  const std::vector<Ring> others = without(fit.rings, own, rival);
  std::vector<Two> guesses;
  if (rival) {
    guesses.emplace_back(fit.rings[own], fit.rings[*rival]);
  } else {
    guesses = starts(stretch, window_at(stretch, fit.rings[own], others), fit.rings[own]);
  }
  PairFit pair{fit, own, own, 0.0};
  const double one = rival ? std::numeric_limits<double>::infinity()
                           : window_at(stretch, fit.rings[own], fit.rings).squares();
  double least = std::numeric_limits<double>::infinity();
  for (const Two& guess : guesses) {
    std::vector<Ring> rings = others;
    rings.push_back(guess.first);
    rings.push_back(guess.second);
    RingFit both = fit_rings(stretch, rings);
    const std::size_t second = rings.size() - 1;
    if (!believable(stretch, both, second - 1, second)) continue;
    const Window window = window_at(stretch, fit.rings[own], both.rings);
    const double squares = window.squares();
    if (squares >= least || one - squares < 4.0 * least_gain * squares / window.degrees()) continue;
    least = squares;
    const bool in_order = both.rings[second - 1].amplitude >= both.rings[second].amplitude;
    pair = {std::move(both), in_order ? second - 1 : second, in_order ? second : second - 1, 0.0};
  }
  const Window window = window_at(stretch, fit.rings[own], pair.fit.rings);
  pair.least_apart_hz =
      least_apart_hz(stretch, fit.rings[own], window.squares() / window.degrees());
  return pair;
}

}  // namespace combwright::ear
