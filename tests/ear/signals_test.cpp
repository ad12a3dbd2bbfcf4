// SPDX-License-Identifier: Apache-2.0
#include "signals.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "bound.h"

namespace combwright::ear::test {
namespace {

double rms(const std::vector<double>& samples, std::size_t begin, std::size_t end) {
  double sum = 0.0;
  for (std::size_t n = begin; n < end; ++n) sum += samples[n] * samples[n];
  return std::sqrt(sum / static_cast<double>(end - begin));
}

TEST(Signals, AToothSoundsAtThePitchAskedFor) {
  for (const double hz : {65.406, 261.63, 1046.5, 4186.0}) {
    const auto rings = tooth_rings(hz);
    ASSERT_EQ(rings.size(), 3U);
    EXPECT_NEAR(rings[0].frequency_hz, hz, 1e-6 * hz);
    EXPECT_EQ(rings[0].amplitude, 1.0);
    EXPECT_GT(rings[1].frequency_hz, 5.5 * hz);  // a thick bar's second mode is below 6.27
  }
}

TEST(Signals, LevelsAreWhatTheyAreCalled) {
  const Scene quiet{.seconds = 1.0};
  const auto with = [&](auto change) {
    Scene scene = quiet;
    change(scene);
    return sound(scene, 7);
  };
  EXPECT_NEAR(rms(with([](Scene& s) { s.noise = 0.1; }), 0, 48000), 0.1, 0.002);
  EXPECT_NEAR(rms(with([](Scene& s) { s.hum = 0.1; }), 0, 48000), 0.1, 0.001);
  EXPECT_NEAR(rms(with([](Scene& s) { s.rumble = 0.1; }), 0, 48000), 0.1, 0.03);
  EXPECT_EQ(with([](Scene& s) { s.dc = 0.1; })[5], 0.1);
  const auto ring = with([](Scene& s) { s.plucks = {{0.5, {{1000.0, 0.0, 0.5, 0.0}}}}; });
  EXPECT_EQ(rms(ring, 0, 24000), 0.0);
  EXPECT_NEAR(ring[24000], 0.5, 1e-12);
  EXPECT_NEAR(ring[47999], 0.5 * std::cos(2.0 * std::numbers::pi * 1000.0 * 23999.0 / 48000.0),
              1e-9);
  EXPECT_NEAR(20.0 * std::log10(std::sqrt(0.5) / noise_of(20.0)), 20.0, 1e-9);
}

// Least standard deviations at 48 kHz, 440 Hz, decay time 0.8 s, 20 dB: by the closed form for a
// lone ring (Yao and Pandit, IEEE Trans. Signal Processing 42 (1994)), by NumPy for a pair, decay
// times alike, in quadrature.
TEST(Signals, TheBoundIsThatOfTheLiterature) {
  const double noise = noise_of(20.0);
  EXPECT_NEAR(
      bound_of({{440.0, 1.25, 1.0, 0.0}}, 48000.0, 48000, noise).frequency_hz[0] / 4.792469e-4, 1.0,
      1e-4);
  EXPECT_NEAR(
      bound_of({{440.0, 1.25, 1.0, 0.0}}, 48000.0, 144000, noise).frequency_hz[0] / 2.918103e-4,
      1.0, 1e-4);
  const Bound pair = bound_of({{439.5, 1.25, 1.0, 0.0}, {440.5, 1.25, 1.0, 0.5 * std::numbers::pi}},
                              48000.0, 48000, noise);
  EXPECT_NEAR(pair.frequency_hz[0] / 1.172549e-3, 1.0, 1e-3);
  EXPECT_NEAR(pair.apart_hz[1] / 1.886682e-3, 1.0, 1e-3);
}

}  // namespace
}  // namespace combwright::ear::test
