// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_fit.h"

#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

#include "base/angle.h"
#include "ear/ring_spectrum.h"

namespace combwright::ear {
namespace {

constexpr double rate_hz = 48000.0;

std::vector<double> sound(const std::vector<Ring>& rings, double seconds, double noise,
                          std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  std::vector<double> samples(static_cast<std::size_t>(seconds * rate_hz));
  for (std::size_t n = 0; n < samples.size(); ++n) {
    const double t = static_cast<double>(n) / rate_hz;
    for (const Ring& ring : rings)
      samples[n] += ring.amplitude * std::exp(-ring.decay_per_s * t) *
                    std::cos(two_pi * ring.frequency_hz * t + ring.phase_rad);
    samples[n] += noise * normal(random);
  }
  return samples;
}

// A sample's noise for a signal-to-noise ratio A^2 / (2 s^2) in decibels, A = 1.
double noise_of(double snr_db) {
  return std::sqrt(0.5 * std::pow(10.0, -0.1 * snr_db));
}

// Least standard deviation of a lone ring's frequency: sd(omega)^2 = 1 / (SNR fs V), with V = I2 -
// I1^2 / I0 and I_k the integral of t^k e^(-2 a t) over the stretch. Yao and Pandit, Variance of
// least squares estimators for a damped sinusoidal process, IEEE Trans. Signal Processing 42
// (1994).
double bound_hz(double decay, double seconds, double snr_db) {
  constexpr int steps = 20000;
  double moments[3] = {};
  for (int i = 0; i < steps; ++i) {
    const double t = seconds * (i + 0.5) / steps;
    const double weight = std::exp(-2.0 * decay * t) * seconds / steps;
    for (double& moment : moments) {
      moment += weight * std::pow(t, static_cast<double>(&moment - moments));
    }
  }
  const double spread = moments[2] - moments[1] * moments[1] / moments[0];
  return 1.0 / std::sqrt(std::pow(10.0, 0.1 * snr_db) * rate_hz * spread) / two_pi;
}

struct Errors {
  double rmse_hz = 0.0;
  double bias_hz = 0.0;
  double spread_hz = 0.0;  // as stated, in the mean
};

// Of the first ring over trials with phases, frequencies within a bin and noise drawn anew.
Errors errors(const std::vector<Ring>& rings, double seconds, double snr_db, int trials) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> share;
  Errors sum;
  for (int i = 0; i < trials; ++i) {
    std::vector<Ring> drawn = rings;
    const double off_hz = share(random) / seconds;
    for (Ring& ring : drawn) {
      ring.frequency_hz += off_hz;
      if (rings.size() == 1) ring.phase_rad = two_pi * share(random);
    }
    std::vector<Ring> guesses = drawn;
    for (Ring& guess : guesses) guess.decay_per_s *= 1.3;
    const Stretch stretch = stretch_of(sound(drawn, seconds, noise_of(snr_db), random), rate_hz);
    const RingFit fit = fit_rings(stretch, guesses);
    EXPECT_TRUE(fit.converged);
    const double error = fit.rings[0].frequency_hz - drawn[0].frequency_hz;
    sum.bias_hz += error / trials;
    sum.rmse_hz += error * error / trials;
    sum.spread_hz += fit.spreads[0].frequency_hz / trials;
  }
  sum.rmse_hz = std::sqrt(sum.rmse_hz);
  return sum;
}

TEST(RingFit, ABinIsTheFourierSumOfTheSamples) {
  std::mt19937_64 random(1);
  const Ring ring{431.7, 2.5, 0.8, 0.4};
  const std::vector<double> samples = sound({ring}, 0.05, 0.0, random);
  const Stretch stretch = stretch_of(samples, rate_hz);
  ASSERT_EQ(stretch.samples, 2400U);
  for (const std::size_t bin : {0U, 3U, 21U, 22U, 300U, 1199U}) {
    std::complex<double> sum;
    for (std::size_t n = 0; n < stretch.samples; ++n)
      sum += samples[n] * std::polar(1.0, -two_pi * static_cast<double>(bin * n % 2400) / 2400.0);
    EXPECT_LT(std::abs(RingSpectrum(ring, stretch).at(turn_of(bin, stretch.samples)) - sum), 1e-9)
        << bin;
    EXPECT_LT(std::abs(stretch.spectrum[bin] - sum), 1e-9) << bin;
  }
}

TEST(RingFit, TheLengthIsTheLongestThatHasOnlySmallFactors) {
  EXPECT_EQ(stretch_of(std::vector<double>(2403), rate_hz).samples, 2400U);
  EXPECT_EQ(stretch_of(std::vector<double>(2), rate_hz).samples, 2U);
  EXPECT_EQ(stretch_of(std::vector<double>(4801), rate_hz).samples, 4800U);
}

TEST(RingFit, WithoutNoiseEveryRingIsFoundExactly) {
  std::mt19937_64 random(2);
  const std::vector<Ring> rings{{261.3, 1.1, 1.0, 0.3},
                                {1638.2, 4.0, 0.05, 2.0},
                                {50.0, 0.0, 0.1, 1.0},
                                {277.0, 3.0, 0.2, -1.0}};
  const Stretch stretch = stretch_of(sound(rings, 1.0, 0.0, random), rate_hz);
  std::vector<Ring> guesses = rings;
  for (Ring& guess : guesses) {
    guess.frequency_hz += 0.2;
    guess.decay_per_s += 0.3;
  }
  const RingFit fit = fit_rings(stretch, guesses);
  ASSERT_TRUE(fit.converged);
  for (std::size_t i = 0; i < rings.size(); ++i) {
    EXPECT_NEAR(fit.rings[i].frequency_hz, rings[i].frequency_hz, 1e-6) << i;
    EXPECT_NEAR(fit.rings[i].decay_per_s, rings[i].decay_per_s, 1e-6) << i;
    EXPECT_NEAR(fit.rings[i].amplitude, rings[i].amplitude, 1e-6) << i;
  }
}

// 600 trials know a root mean square to 3 %.
TEST(RingFit, ALoneRingIsKnownAsWellAsTheCramerRaoBoundAllows) {
  for (const double snr_db : {10.0, 40.0}) {
    for (const double decay : {1.25, 6.0}) {
      const Errors found = errors({{440.0, decay, 1.0, 0.0}}, 0.25, snr_db, 600);
      const double bound = bound_hz(decay, 0.25, snr_db);
      EXPECT_LT(found.rmse_hz / bound, 1.1) << snr_db << " dB, decay " << decay;
      EXPECT_GT(found.rmse_hz / bound, 0.9) << snr_db << " dB, decay " << decay;
      EXPECT_LT(std::abs(found.bias_hz), 0.15 * bound) << snr_db << " dB, decay " << decay;
      EXPECT_NEAR(found.spread_hz / bound, 1.0, 0.03) << snr_db << " dB, decay " << decay;
    }
  }
}

// Two equal rings, decay time 0.8 s, 20 dB each, over 1 s: least standard deviation of one's
// frequency, by the numerical Fisher information of the eight unknowns (computed for this project
// with NumPy; Scharf and McWhorter, Geometry of the Cramer-Rao bound, Signal Processing 31 (1993)).
TEST(RingFit, TwoRingsAFractionOfAHertzApartAreKnownAsWellAsTheirBoundAllows) {
  for (const auto& [apart_hz, bound] :
       {std::pair{0.5, 4.448313e-3}, {1.0, 1.172549e-3}, {3.0, 4.956852e-4}}) {
    const Errors found = errors({{440.0 - 0.5 * apart_hz, 1.25, 1.0, 0.0},
                                 {440.0 + 0.5 * apart_hz, 1.25, 1.0, 0.5 * std::numbers::pi}},
                                1.0, 20.0, 200);
    EXPECT_LT(found.rmse_hz / bound, 1.2) << apart_hz;
    EXPECT_NEAR(found.spread_hz / bound, 1.0, 0.1) << apart_hz;
  }
}

}  // namespace
}  // namespace combwright::ear
