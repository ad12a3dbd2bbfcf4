// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <cstddef>
#include <vector>

#include "ear/ring.h"
#include "ear/stretch.h"

namespace combwright::ear {

// e^(-2 pi i bin / samples).
std::complex<double> turn_of(std::size_t bin, std::size_t samples);

// The same of `count` bins from `low` on.
std::vector<std::complex<double>> turns_from(std::size_t low, std::size_t count,
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
  Series at(std::complex<double> turn, bool with_bend = false) const;

 private:
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

 private:
  std::complex<double> half_;
  PoleSpectrum pole_;
  PoleSpectrum mirror_;
};

}  // namespace combwright::ear
