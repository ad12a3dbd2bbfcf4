// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <vector>

#include "ear/ring.h"
#include "ear/stretch.h"

// Decaying sinusoids in a stretch of a recording, by maximum likelihood.
namespace combwright::ear {

// What is known of a ring, one standard deviation, by the noise that is left around it.
struct RingSpread {
  double frequency_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude = 0.0;  // as a share
};

struct RingFit {
  std::vector<Ring> rings;  // in the order of the guesses
  std::vector<RingSpread> spreads;
  bool converged = false;
};

// A ring is fitted on the bins within this of it: what lies further off tells less than a
// hundredth of what is known of it.
double reach_hz(const Ring& ring, const Stretch& stretch);

// All rings of the guesses (at least one): those whose reaches overlap at once, by Gauss and
// Newton's method with Levenberg's damping; those further off, which share but the feet of their
// peaks, in turn until nothing moves. Guesses must be nearer to the truth than a bin or a fifth of
// the decay's half width; phases and amplitudes are found anew. The spreads are the Cramer-Rao
// bound at the fit (for a lone ring that of Yao and Pandit, IEEE Trans. SP 42, 1994) for the noise
// left over.
RingFit fit_rings(const Stretch& stretch, const std::vector<Ring>& guesses);

// How a ring departs from a decaying sinusoid: its phase has 2 pi glide t^2 / 2 more, the logarithm
// of its amplitude swell t^2 / 2 more. Two tones that beat in step swell by -(pi apart)^2. Spreads
// are one standard deviation, by the noise left around the ring.
struct Departure {
  double glide_hz_per_s = 0.0;
  double glide_spread_hz_per_s = 0.0;
  double swell_per_s2 = 0.0;
  double swell_spread_per_s2 = 0.0;
};

// The likeliest departure of one ring of a fit, by one step from it.
Departure departure_of(const Stretch& stretch, const RingFit& fit, std::size_t ring);

}  // namespace combwright::ear
