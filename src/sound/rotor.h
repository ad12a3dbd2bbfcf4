// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>

namespace combwright::sound {

// Sums of decaying sinusoids, a run of samples at a time. Each sinusoid is a complex number that
// turns and shrinks; it is exact in double at the start of every run and carried on in float within
// it, on a fixed number of lanes, so that every machine gives the same bits whatever its vectors.
inline constexpr std::size_t run_length = 256;
inline constexpr std::size_t lane_count = 16;

// What multiplying by exp(rate), once a sample, comes to.
struct Rotor {
  std::array<float, lane_count> lane_re{};  // after as many samples as the lane's number
  std::array<float, lane_count> lane_im{};
  float step_re = 1.0F;  // after lane_count samples
  float step_im = 0.0F;
  std::complex<double> run = 1.0;  // after run_length samples
};

Rotor make_rotor(std::complex<double> rate_per_sample);

struct Voice {
  const Rotor* rotor = nullptr;
  std::complex<double> state;  // its imaginary part is the next sample
};

// Puts the sum of the voices' next run_length samples into `out`, and moves the voices on.
void next_run(std::span<Voice> voices, std::span<float, run_length> out);

// Largest error of a sample of next_run, over the sum of the magnitudes of the voices' states.
inline constexpr double run_error = 2e-6;

}  // namespace combwright::sound
