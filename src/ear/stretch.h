// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

namespace combwright::ear {

// A stretch of sound as its spectrum. Bins of white noise are independent, and a ring lives in a
// few of them, so that whoever looks for rings looks at these alone and loses next to nothing.
struct Stretch {
  double rate_hz = 0.0;
  std::size_t samples = 0;
  std::vector<std::complex<double>> spectrum;  // bins 0 to samples / 2, unscaled

  double bin_hz() const { return rate_hz / static_cast<double>(samples); }
  double seconds() const { return static_cast<double>(samples) / rate_hz; }
};

// The longest stretch from the start of the samples (at least two) whose length has only the
// factors 2, 3 and 5, and is even.
Stretch stretch_of(std::span<const double> samples, double rate_hz);

// The same, let in and out within `rise_s` by half a cosine: what begins or ends with a jump does
// not spill over the whole spectrum.
Stretch tapered_stretch_of(std::span<const double> samples, double rate_hz, double rise_s);

}  // namespace combwright::ear
