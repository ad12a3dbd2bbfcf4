// SPDX-License-Identifier: Apache-2.0
#include "sound/rotor.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

#include <gtest/gtest.h>
#include <hwy/targets.h>

namespace combwright::sound {
namespace {

using Samples = std::array<float, run_length>;

// Rates from 20 Hz to 20 kHz at 48 kHz, log-uniform, with e-folds of 2 ms to 10 s.
struct RandomRates {
  std::mt19937 random{20240301};  // stream "rotor test"

  double log_uniform(double low, double high) {
    return low * std::pow(high / low, static_cast<double>(random()) / 4294967296.0);
  }
  std::complex<double> rate() {
    const double decay = 1.0 / (48000.0 * log_uniform(0.002, 10.0));
    return {-decay, 2 * std::numbers::pi * log_uniform(20.0, 20000.0) / 48000.0};
  }
};

TEST(Rotor, SamplesAreWithinTheClaimedErrorOfDoublePrecision) {
  RandomRates random;
  double worst = 0.0;
  for (int trial = 0; trial < 2000; ++trial) {
    const auto rate = random.rate();
    const auto rotor = make_rotor(rate);
    const auto start = std::polar(random.log_uniform(1e-5, 1.0), random.log_uniform(0.01, 6.28));
    std::vector<Voice> voices{{&rotor, start}};
    Samples run;
    for (int k = 0; k < 4; ++k) {
      next_run(voices, run);
      for (std::size_t i = 0; i < run_length; ++i) {
        const auto samples = static_cast<double>(k * run_length + i);
        const double exact = std::imag(start * std::exp(rate * samples));
        worst = std::max(worst, std::abs(run[i] - exact) / std::abs(start));
      }
    }
  }
  RecordProperty("worst", std::to_string(worst * 1e9) + "e-9");
  EXPECT_LE(worst, run_error);
}

TEST(Rotor, VoicesStayExactOverManyRuns) {
  RandomRates random;
  const auto rate = std::complex<double>(-1e-6, random.rate().imag());
  const auto rotor = make_rotor(rate);
  std::vector<Voice> voices{{&rotor, 1.0}};
  Samples run;
  for (int k = 0; k < 10000; ++k) next_run(voices, run);
  const auto exact = std::exp(rate * (10000.0 * run_length));
  EXPECT_LT(std::abs(voices[0].state - exact), 1e-9);
}

TEST(Rotor, EveryKindOfVectorGivesTheSameBits) {
  RandomRates random;
  std::vector<Rotor> rotors;
  for (int i = 0; i < 20; ++i) rotors.push_back(make_rotor(random.rate()));
  const auto bits = [&] {
    std::vector<Voice> voices;
    for (const auto& rotor : rotors) voices.push_back({&rotor, {0.3, 0.4}});
    std::vector<std::uint32_t> result;
    Samples run;
    for (int k = 0; k < 10; ++k) {
      next_run(voices, run);
      for (const float sample : run) result.push_back(std::bit_cast<std::uint32_t>(sample));
    }
    return result;
  };
  const auto best = bits();
  int kinds = 0;
  for (const auto target : hwy::SupportedAndGeneratedTargets()) {
    hwy::SetSupportedTargetsForTest(target);
    hwy::GetChosenTarget().Update(hwy::SupportedTargets());
    EXPECT_EQ(bits(), best) << hwy::TargetName(target);
    ++kinds;
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().Update(hwy::SupportedTargets());
  EXPECT_GE(kinds, 1);
}

}  // namespace
}  // namespace combwright::sound
