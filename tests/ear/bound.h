// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "ear/ring.h"

namespace combwright::ear::test {

// The least standard deviations that any unbiased estimate of the rings' frequencies in white noise
// can have, with those of their differences from the first ring's.
struct Bound {
  std::vector<double> frequency_hz;
  std::vector<double> apart_hz;  // the first is 0
};

// Cramer and Rao's bound by the exact Fisher information of every sample, all frequencies, decays,
// amplitudes and phases unknown: Yao and Pandit, Cramer-Rao lower bound on the variance of damped
// sinusoids, IEEE Trans. Signal Processing 43 (1995); Kay, Fundamentals of Statistical Signal
// Processing: Estimation Theory (1993), chapter 3. Time counts from the first of the `samples`;
// `noise` is a sample's standard deviation.
Bound bound_of(const std::vector<Ring>& rings, double rate_hz, std::size_t samples, double noise);

}  // namespace combwright::ear::test
