// SPDX-License-Identifier: Apache-2.0
#include "sound/partials.h"

#include <cmath>
#include <numeric>

#include <gtest/gtest.h>

#include "scene.h"

namespace combwright::sound {
namespace {

// W. T. Thomson, Theory of Vibration with Applications, appendix D: clamped-free beam.
TEST(Partials, BareBeamHasTheHandbookRoots) {
  const auto modes = beam_modes(0.0);
  EXPECT_NEAR(modes[0].lambda * modes[0].lambda, 3.5160, 5e-5);
  EXPECT_NEAR(modes[1].lambda * modes[1].lambda, 22.0345, 5e-5);
  EXPECT_NEAR(modes[2].lambda * modes[2].lambda, 61.6972, 5e-5);
}

// Mathematical Problems in Engineering 2017, 1568019, table 1, row "no rotary inertia": a beam with
// its own mass at its tip.
TEST(Partials, BeamWithItsOwnMassAtTheTipHasThePublishedRoots) {
  const double published[] = {1.557298, 16.25009, 50.89584, 105.1983};
  const auto modes = beam_modes(1.0);
  for (int n = 0; n < partial_count; ++n)
    EXPECT_NEAR(modes[n].lambda * modes[n].lambda / published[n], 1.0, 1e-6);
}

// The roots in 30-digit arithmetic (own computation, agreeing with finite elements).
TEST(Partials, RootsAndAmplitudesAreWithinTheClaimedError) {
  struct Row {
    double mass_ratio;
    double lambda[4];
  };
  const Row rows[] = {
      {0.0, {1.875104068711961, 4.694091132974175, 7.854757438237613, 10.99554073487547}},
      {0.01, {1.856786977, 4.649726483, 7.782671240, 10.89758843}},
      {0.1, {1.722741521, 4.399522816, 7.451056673, 10.52178476}},
      {10.0, {0.7357819194, 3.938465833, 7.075616367, 10.21504648}}};
  for (const auto& row : rows)
    for (int n = 0; n < partial_count; ++n)
      EXPECT_NEAR(beam_modes(row.mass_ratio)[n].lambda / row.lambda[n], 1.0, beam_mode_error)
          << row.mass_ratio << " mode " << n + 1;
  for (const auto& mode : beam_modes(0.0))
    EXPECT_NEAR(mode.tip_amplitude * std::pow(mode.lambda, 4) / 12.0, 1.0, beam_mode_error);
}

// A static lift is the sum of all mode shapes, so the amplitudes of all modes add to 1; what is
// missing after four falls as the lead grows.
TEST(Partials, AmplitudesAddToNearlyTheWholeLift) {
  double missing_before = 1.0;
  for (const double mass_ratio : {0.0, 0.1, 0.5, 1.0, 2.0}) {
    double sum = 0.0;
    for (const auto& mode : beam_modes(mass_ratio)) sum += mode.tip_amplitude;
    EXPECT_LT(sum, 1.0);
    EXPECT_GT(sum, 0.999);
    EXPECT_LT(1.0 - sum, missing_before);
    missing_before = 1.0 - sum;
  }
}

TEST(Partials, FundamentalIsTheLoudestPartialOfEveryTooth) {
  for (int midi = 36; midi <= 96; ++midi) {
    const double hz = 440.0 * std::exp2((midi - 69) / 12.0);
    for (const double mass_ratio : {0.0, 0.5, 1.0}) {
      const auto tooth = partials(hz, mass_ratio);
      EXPECT_EQ(tooth[0].amplitude, 1.0);
      for (int n = 1; n < partial_count; ++n)
        EXPECT_LT(tooth[n].amplitude, tooth[n - 1].amplitude) << midi << " " << mass_ratio;
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

TEST(Partials, LeadFallsFromTheLowestNoteOfTheScaleToNothingAtTheHighest) {
  const box::Scale scale{.midi = {48, 60, 60, 72}};
  EXPECT_EQ(lead_mass_ratio(scale, 48), 1.0);
  EXPECT_EQ(lead_mass_ratio(scale, 60), 0.5);
  EXPECT_EQ(lead_mass_ratio(scale, 72), 0.0);
  EXPECT_EQ(lead_mass_ratio({.midi = {60}}, 60), 0.0);
}

}  // namespace
}  // namespace combwright::sound
