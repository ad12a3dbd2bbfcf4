// SPDX-License-Identifier: Apache-2.0
#include "ear/stretch.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <unsupported/Eigen/FFT>

namespace combwright::ear {
namespace {

std::size_t fast_length(std::size_t samples) {
  std::size_t best = 2;
  for (std::size_t five = 1; five <= samples; five *= 5) {
    for (std::size_t three = five; three <= samples; three *= 3) {
      std::size_t two = 2 * three;
      if (two > samples) break;
      while (2 * two <= samples) two *= 2;
      best = std::max(best, two);
    }
  }
  return best;
}

Stretch transformed(const std::vector<double>& samples, double rate_hz) {
  Stretch stretch{.rate_hz = rate_hz, .samples = samples.size(), .spectrum = {}};
  Eigen::FFT<double> fft;
  fft.SetFlag(Eigen::FFT<double>::HalfSpectrum);
  fft.fwd(stretch.spectrum, samples);
  return stretch;
}

std::vector<double> used(std::span<const double> samples) {
  const auto length = fast_length(samples.size());
  return {samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(length)};
}

}  // namespace

Stretch stretch_of(std::span<const double> samples, double rate_hz) {
  assert(samples.size() >= 2 && rate_hz > 0.0);
  return transformed(used(samples), rate_hz);
}

Stretch tapered_stretch_of(std::span<const double> samples, double rate_hz, double rise_s) {
  assert(samples.size() >= 2 && rate_hz > 0.0 && rise_s >= 0.0);
  std::vector<double> kept = used(samples);
  const auto rise = std::min(static_cast<std::size_t>(rise_s * rate_hz), kept.size() / 2);
  for (std::size_t n = 0; n < rise; ++n) {
    const double share = (static_cast<double>(n) + 0.5) / static_cast<double>(rise);
    const double weight = 0.5 - 0.5 * std::cos(std::numbers::pi * share);
    kept[n] *= weight;
    kept[kept.size() - 1 - n] *= weight;
  }
  return transformed(kept, rate_hz);
}

}  // namespace combwright::ear
