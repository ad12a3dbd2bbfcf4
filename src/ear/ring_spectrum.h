// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ear/ring.h"
#include "ear/stretch.h"

namespace combwright::ear {

// e^(-2 pi i bin / samples).
std::complex<double> turn_of(std::size_t bin, std::size_t samples);

// The same of `count` bins from `low` on.
std::vector<std::complex<double>> turns_from(std::size_t low, std::size_t count,
                                             std::size_t samples);

// The same of ascending bins.
std::vector<std::complex<double>> turns_of(const std::vector<std::size_t>& bins,
                                           std::size_t samples);

// Sum of z^n turn^n over a stretch, z = e^step, with its first and second derivative by step.
struct Series {
  std::complex<double> sum;
  std::complex<double> slope;
  std::complex<double> bend;
};

// The spectrum of a decaying sinusoid over a stretch: a geometric series, exact.
class PoleSpectrum {
 public:
  // `step` is (-decay + i angular frequency) for a sample.
  PoleSpectrum(std::complex<double> step, std::size_t samples);

  // At a bin of that stretch. The bend is filled in only on demand.
  Series at(std::complex<double> turn, bool with_bend = false) const {
    const std::complex<double> ratio = z_ * turn;
    const std::complex<double> away = 1.0 - ratio;
    const double square = std::norm(away);
    if (square < singular) return on_the_bin();
    // Without the care for overflow that a library's division takes.
    const std::complex<double> inverse = std::conj(away) / square;
    const std::complex<double> sum = (1.0 - power_) * inverse;
    const std::complex<double> slope = (sum * ratio - samples_ * power_) * inverse;
    if (!with_bend) return {sum, slope, 0.0};
    return {sum, slope, ((2.0 * slope + sum) * ratio - samples_ * samples_ * power_) * inverse};
  }

  // |1 - z turn|^2 below which the series is the number of samples.
  static constexpr double singular = 1e-24;

  std::complex<double> z() const { return z_; }
  std::complex<double> power() const { return power_; }

 private:
  Series on_the_bin() const {
    const double slope = 0.5 * samples_ * (samples_ - 1.0);
    return {samples_, slope, slope * (2.0 * samples_ - 1.0) / 3.0};
  }

  std::complex<double> z_;
  std::complex<double> power_;  // z^samples
  double samples_;
};

// The spectrum of a ring, its mirror image at negative frequency included.
class RingSpectrum {
 public:
  RingSpectrum(const Ring& ring, const Stretch& stretch);

  // At a bin of that stretch.
  std::complex<double> at(std::complex<double> turn) const;

  // Takes it away from a spectrum at the bins with these turns.
  void take_from(std::span<std::complex<double>> spectrum,
                 std::span<const std::complex<double>> turns) const;

 private:
  std::complex<double> half_;
  PoleSpectrum pole_;
  PoleSpectrum mirror_;
};

}  // namespace combwright::ear
