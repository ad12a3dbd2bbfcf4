// SPDX-License-Identifier: Apache-2.0
#include "sound/partials.h"

#include <cmath>
#include <numeric>

#include <gtest/gtest.h>

#include "scene.h"

namespace combwright::sound {
namespace {

// W. T. Thomson, Theory of Vibration with Applications, appendix D: clamped-free beam.
TEST(Partials, BareBarHasTheHandbookRatios) {
  const auto bare = partials(test::bar(440.0, 0.0), 6e-4);
  EXPECT_NEAR(bare[0].frequency_hz, 440.0, 1e-6);
  EXPECT_NEAR(bare[1].frequency_hz / bare[0].frequency_hz, 22.0345 / 3.5160, 2e-4);
  EXPECT_NEAR(bare[2].frequency_hz / bare[0].frequency_hz, 61.6972 / 3.5160, 5e-4);
}

// Mathematical Problems in Engineering 2017, 1568019, table 1, row "no rotary inertia": a beam with
// its own mass at its tip.
TEST(Partials, BarWithItsOwnMassAtTheTipHasThePublishedRatios) {
  const double published[] = {1.557298, 16.25009, 50.89584, 105.1983};
  const auto modes = partials(test::bar(440.0, 1.0), 6e-4);
  for (int n = 0; n < partial_count; ++n)
    EXPECT_NEAR(modes[n].frequency_hz / 440.0 * published[0] / published[n], 1.0, 1e-6);
}

// With no time for letting go the forces at the root of a bare bar are E I lift / L^3 times these
// (own computation in 30-digit arithmetic).
TEST(Partials, ForcesAreThoseOfTheModesLessWhatLettingGoTakes) {
  const double shear[] = {4.6979505, 2.6036154, 1.5265518, 1.0913881};
  const auto bar = test::bar(440.0, 0.0);
  const auto& section = bar.sections[0];
  const double stiffness = bar.steel.modulus_pa * section.root_width_m *
                           std::pow(section.root_thickness_m, 3) / 12.0 /
                           std::pow(section.length_m, 3);
  const auto modes = partials(bar, 6e-4);
  for (int n = 0; n < partial_count; ++n) {
    const double swing = 2.0 * 3.14159265358979 * modes[n].frequency_hz * release_time_s;
    EXPECT_NEAR(modes[n].force_n * (1.0 + swing * swing) / (shear[n] * stiffness * 6e-4), 1.0,
                1e-6);
  }
}

TEST(Partials, FundamentalIsTheLoudestPartialOfEveryTooth) {
  for (int midi = 36; midi <= 96; ++midi) {
    const double hz = 440.0 * std::exp2((midi - 69) / 12.0);
    for (const double mass_ratio : {0.0, 0.5, 1.0}) {
      const auto tooth = partials(test::bar(hz, mass_ratio), 6e-4);
      for (int n = 1; n < partial_count; ++n)
        EXPECT_LT(tooth[n].force_n, tooth[n - 1].force_n) << midi << " " << mass_ratio;
    }
  }
}

TEST(Partials, RingTimeRunsFromSixSecondsInTheBassToOneInTheTreble) {
  EXPECT_NEAR(ring_time_s(65.40639, 65.40639), 6.0, 1e-6);
  EXPECT_NEAR(ring_time_s(4186.009, 4186.009), 1.0, 1e-6);
  EXPECT_NEAR(ring_time_s(523.251131, 523.251131), std::sqrt(6.0), 1e-6);  // half-way
  EXPECT_NEAR(ring_time_s(30.0, 30.0), 6.0, 1e-12);
  EXPECT_NEAR(ring_time_s(523.251131, 4 * 523.251131), std::sqrt(6.0) / 2, 1e-6);
}

}  // namespace
}  // namespace combwright::sound
