// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <vector>

// Decaying sinusoids in a stretch of a recording, by maximum likelihood.
namespace combwright::ear {

// One of them: amplitude e^(-decay t) cos(2 pi frequency t + phase), t from the stretch's first
// sample.
struct Ring {
  double frequency_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude = 0.0;
  double phase_rad = 0.0;
};

// What is known of a ring, one standard deviation, by the noise that is left around it.
struct RingSpread {
  double frequency_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude = 0.0;  // as a share
  double noise = 0.0;      // a sample's, if all the noise were like that near the ring
};

// A stretch of sound as its spectrum. Bins of white noise are independent, and a ring lives in a
// few of them, so that the fit looks at these alone and loses next to nothing.
struct Stretch {
  double rate_hz = 0.0;
  std::size_t samples = 0;
  std::vector<std::complex<double>> spectrum;  // bins 0 to samples / 2, unscaled

  double bin_hz() const { return rate_hz / static_cast<double>(samples); }
};

// The longest stretch from the start of the samples whose length has only the factors 2, 3 and 5,
// and is even. At least two samples.
Stretch stretch_of(const std::vector<double>& samples, double rate_hz);

// The spectrum of a ring as the stretch would have it: a geometric series, exact.
std::complex<double> bin_of(const Stretch& stretch, const Ring& ring, std::size_t bin);

struct RingFit {
  std::vector<Ring> rings;  // in the order of the guesses
  std::vector<RingSpread> spreads;
  bool converged = false;
};

// All rings of the guesses at once, by Gauss and Newton's method with Levenberg's damping; each is
// fitted on the bins within `reach_hz` of its guess, and a bin within reach of several counts once.
// Guesses must be nearer to the truth than a bin or a fifth of the decay's half width; phases and
// amplitudes are found anew. The spreads are the Cramer-Rao bound at the fit (for a lone ring that
// of Yao and Pandit, IEEE Trans. SP 42, 1994) for the noise left over.
RingFit fit_rings(const Stretch& stretch, const std::vector<Ring>& guesses, double reach_hz);

}  // namespace combwright::ear
