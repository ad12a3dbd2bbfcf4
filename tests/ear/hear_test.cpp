// SPDX-License-Identifier: Apache-2.0
#include "ear/hear.h"

#include <cmath>
#include <random>
#include <string>

#include <gtest/gtest.h>

#include "bound.h"
#include "ear/channel.h"
#include "ear/clipping.h"
#include "ear/reference.h"
#include "signals.h"

namespace combwright::ear {
namespace {

using namespace test;

// One tooth, its click, noise 40 dB below it.
Scene scene_of(double hz) {
  Scene scene;
  scene.plucks = {{0.25, tooth_rings(hz), HUGE_VAL}};
  scene.noise = noise_of(40.0);
  scene.click = 1.0;
  scene.level = 0.3;
  return scene;
}

HeardPluck only(const Heard& heard) {
  EXPECT_EQ(heard.plucks.size(), 1U);
  return heard.plucks.empty() ? HeardPluck{.own = {{}}} : heard.plucks[0];
}

bool says(const Findings& findings, const std::string& words) {
  for (const Finding& finding : findings)
    if (finding.what.find(words) != std::string::npos) return true;
  return false;
}

TEST(Hear, ThePitchOfAToothDecayLevelOnsetAndHigherModes) {
  for (const double hz : {66.0, 261.0, 1046.0, 3900.0}) {
    const Scene scene = scene_of(hz);
    const HeardPluck pluck = only(hear(sound(scene, 1), scene.rate_hz, {}));
    const std::vector<Ring>& rings = scene.plucks[0].rings;
    EXPECT_TRUE(pluck.sure) << hz;
    EXPECT_NEAR(cents(pluck.own[0].frequency_hz, hz), 0.0, 0.01) << hz;
    EXPECT_NEAR(pluck.own[0].decay_s * rings[0].decay_per_s, 1.0, 0.005) << hz;
    EXPECT_NEAR(pluck.own[0].amplitude, 0.3, 0.005) << hz;
    EXPECT_NEAR(pluck.onset_s, 0.25, 0.002) << hz;
    ASSERT_GE(pluck.partials.size(), 1U) << hz;
    EXPECT_NEAR(cents(pluck.partials[0].frequency_hz, rings[1].frequency_hz), 0.0, 0.5) << hz;
    EXPECT_NEAR(pluck.partials[0].level_db, 20.0 * std::log10(rings[1].amplitude), 1.0) << hz;
  }
}

// The bound of one ring alone, from the onset on: bound.h.
TEST(Hear, ALoneToothAsWellAsTheCramerRaoBoundAllows) {
  constexpr int trials = 150;
  for (const double snr_db : {15.0, 40.0}) {
    std::mt19937_64 random(4);
    std::uniform_real_distribution<double> share;
    double square = 0.0;
    for (int i = 0; i < trials; ++i) {
      Scene scene;
      scene.seconds = 1.0;
      const Ring ring{420.0 + 30.0 * share(random), 2.0, 1.0, 6.28 * share(random)};
      scene.plucks = {{0.2, {ring}, HUGE_VAL}};
      scene.noise = noise_of(snr_db);
      scene.level = 0.3;
      const HeardPluck pluck =
          only(hear(sound(scene, static_cast<std::uint64_t>(i)), scene.rate_hz, {}));
      const double bound = bound_of({ring}, scene.rate_hz, 38400, scene.noise).frequency_hz[0];
      square += std::pow((pluck.own[0].frequency_hz - ring.frequency_hz) / bound, 2) / trials;
    }
    // 150 trials know a root mean square to 6 %.
    EXPECT_LT(std::sqrt(square), 1.18) << snr_db;
  }
}

TEST(Hear, ThroughHumANeighbourARoomAndALowLevel) {
  for (const double hz : {98.0, 440.0, 1760.0}) {
    Scene scene = scene_of(hz);
    scene.seconds = 2.2;
    scene.plucks.push_back({0.0, tooth_rings(hz * std::exp2(1.0 / 12.0)), HUGE_VAL});
    scene.plucks[0].onset_s = 0.6;
    scene.hum = 0.1;
    scene.room = 0.05;
    scene.rumble = 0.01;
    scene.dc = 0.2;
    scene.level = 0.005;
    scene.bits = 24;
    const Heard heard = hear(sound(scene, 2), scene.rate_hz, {});
    ASSERT_EQ(heard.plucks.size(), 2U) << hz;
    EXPECT_NEAR(cents(heard.plucks[1].own[0].frequency_hz, hz), 0.0, 0.1) << hz;
  }
}

TEST(Hear, BothOfAPairAndItsBeat) {
  Scene scene = scene_of(587.0);
  scene.plucks.push_back({0.25, tooth_rings(587.6), HUGE_VAL});
  const HeardPluck pluck = only(hear(sound(scene, 3), scene.rate_hz, {{}, true}));
  ASSERT_EQ(pluck.own.size(), 2U);
  EXPECT_NEAR(std::abs(pluck.own[0].frequency_hz - pluck.own[1].frequency_hz), 0.6, 0.005);
  EXPECT_GE(pluck.own[0].amplitude, pluck.own[1].amplitude);
}

TEST(Hear, OneToneWhereAPairIsSoughtIsSaidToBeOne) {
  const Scene scene = scene_of(587.0);
  const HeardPluck pluck = only(hear(sound(scene, 3), scene.rate_hz, {{}, true}));
  EXPECT_EQ(pluck.own.size(), 1U);
  EXPECT_FALSE(pluck.sure);
  EXPECT_TRUE(says(pluck.findings, "one tone is heard, or two less than"));
}

TEST(Hear, APairThatIsNotSoughtIsNoticed) {
  Scene scene = scene_of(587.0);
  scene.plucks.push_back({0.25, tooth_rings(588.2), HUGE_VAL});
  EXPECT_TRUE(says(only(hear(sound(scene, 3), scene.rate_hz, {})).findings, "two tones"));
}

TEST(Hear, AToothPluckedTwiceCountsOnce) {
  Scene scene = scene_of(330.0);
  scene.plucks[0].until_s = 0.4;
  scene.plucks.push_back({0.4, tooth_rings(330.0), HUGE_VAL});
  const HeardPluck pluck = only(hear(sound(scene, 3), scene.rate_hz, {}));
  EXPECT_TRUE(says(pluck.findings, "plucked twice"));
  EXPECT_NEAR(pluck.onset_s, 0.4, 0.003);
  EXPECT_NEAR(cents(pluck.own[0].frequency_hz, 330.0), 0.0, 0.02);
}

TEST(Hear, PastTheClippedSamples) {
  Scene scene = scene_of(330.0);
  scene.level = 2.0;
  scene.clip = 1.0;
  const HeardPluck pluck = only(hear(sound(scene, 3), scene.rate_hz, {}));
  EXPECT_TRUE(says(pluck.findings, "clipped"));
  EXPECT_TRUE(pluck.sure);
  EXPECT_NEAR(cents(pluck.own[0].frequency_hz, 330.0), 0.0, 0.02);
  EXPECT_NEAR(pluck.own[0].amplitude, 2.0, 0.05);
}

// Two teeth, both let go at once, neither told by a pitch to look for.
TEST(Hear, TwoTeethAtOnceCantBeToldApartWithoutAPitch) {
  Scene scene = scene_of(523.25);
  scene.plucks.push_back({0.25, tooth_rings(659.26), HUGE_VAL});
  const std::vector<double> samples = sound(scene, 3);
  const HeardPluck pluck = only(hear(samples, scene.rate_hz, {}));
  EXPECT_FALSE(pluck.sure);
  EXPECT_TRUE(says(pluck.findings, "it can't be told which is the tooth"));
  const HeardPluck near = only(hear(samples, scene.rate_hz, {650.0, false}));
  EXPECT_NEAR(cents(near.own[0].frequency_hz, 659.26), 0.0, 0.05);
}

TEST(Hear, SilenceNoiseAndHumAreNoTooth) {
  Scene scene;
  EXPECT_TRUE(says(hear(sound(scene, 1), scene.rate_hz, {}).findings, "silent"));
  scene.noise = 0.01;
  EXPECT_TRUE(has_fault(hear(sound(scene, 1), scene.rate_hz, {}).findings));
  scene.hum = 0.1;
  EXPECT_TRUE(has_fault(hear(sound(scene, 1), scene.rate_hz, {}).findings));
  EXPECT_TRUE(hear(std::vector<double>(1, 0.5), 48000.0, {}).plucks.empty());
}

TEST(Hear, WhatLowLevelAndDcAre) {
  Scene scene = scene_of(330.0);
  scene.level = 0.001;
  EXPECT_TRUE(says(hear(sound(scene, 1), scene.rate_hz, {}).findings, "the level is low"));
  scene.level = 0.3;
  scene.dc = 0.4;
  EXPECT_TRUE(says(hear(sound(scene, 1), scene.rate_hz, {}).findings, "12 % of full scale off"));
}

TEST(Clipping, AFlatTopIsFoundAndARoundOneIsNot) {
  Scene scene = scene_of(110.0);
  scene.bits = 16;
  EXPECT_TRUE(clipped_samples(sound(scene, 1)).empty());
  scene.clip = 0.2;
  EXPECT_GT(clipped_samples(sound(scene, 1)).size(), 50U);
}

TEST(Channel, TheLoudestThatIsNotClipped) {
  Scene scene = scene_of(330.0);
  const std::vector<double> good = sound(scene, 1);
  scene.level = 3.0;
  scene.clip = 1.0;
  const std::vector<double> clipped = sound(scene, 1);
  const std::vector<double> faint(good.size(), 0.0);
  EXPECT_EQ(best_channel({48000.0, {faint, clipped, good}, "", false}), 2U);
  EXPECT_EQ(best_channel({48000.0, {faint, clipped}, "", false}), 1U);
}

TEST(Hear, ANeighbourThatRangBeforeInANoisyRoomIsNotTheTooth) {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    Scene scene = scene_of(180.0 + 20.0 * static_cast<double>(seed));
    scene.plucks.push_back(
        {-0.4, tooth_rings(scene.plucks[0].rings[0].frequency_hz * 0.944), HUGE_VAL});
    scene.hum = 0.07;
    scene.room = 0.1;
    scene.rumble = 0.1;
    scene.level = 0.01;
    const Heard heard = hear(sound(scene, seed), scene.rate_hz, {});
    const auto place = surest(heard.plucks);
    ASSERT_TRUE(place);
    EXPECT_NEAR(
        cents(heard.plucks[*place].own[0].frequency_hz, scene.plucks[0].rings[0].frequency_hz), 0.0,
        1.0)
        << seed;
    EXPECT_TRUE(heard.plucks[*place].sure) << seed;
  }
}

TEST(Hear, ThePitchSoughtDecidesAgainstALouderNeighbour) {
  for (const double off : {-100.0, -60.0, 100.0}) {
    Scene scene = scene_of(440.5);
    std::vector<Ring> loud = tooth_rings(440.5 * std::exp2(off / 1200.0));
    for (Ring& ring : loud) ring.amplitude *= 2.5;
    scene.plucks.push_back({0.25, loud});
    const HeardPluck pluck = only(hear(sound(scene, 3), scene.rate_hz, {.near_hz = 440.0}));
    EXPECT_NEAR(cents(pluck.own[0].frequency_hz, 440.5), 0.0, 0.1) << off;
  }
}

TEST(Hear, SaysWhyNothingOrSomethingElseWasHeard) {
  Scene scene = scene_of(425.0);
  EXPECT_TRUE(says(hear(sound(scene, 1), scene.rate_hz, {.near_hz = 2000.0}).findings,
                   "no tooth is heard near 2000.00 Hz, but one at 425.00 Hz"));
  EXPECT_TRUE(says(only(hear(sound(scene, 1), scene.rate_hz, {.near_hz = 523.0})).findings,
                   "cents from the pitch that was sought"));
  scene.seconds = 0.03;
  EXPECT_TRUE(says(hear(sound(scene, 1), scene.rate_hz, {}).findings, "only 30 ms long"));
}

TEST(Hear, ASteadyToneIsNoTooth) {
  Scene scene = scene_of(440.0);
  scene.plucks = {{0.25, {{440.0, 0.0, 1.0, 0.0}}}};
  const HeardPluck pluck = only(hear(sound(scene, 1), scene.rate_hz, {}));
  EXPECT_FALSE(pluck.sure);
  EXPECT_TRUE(says(pluck.findings, "does not die away"));
}

TEST(Hear, ACrackedToothsHigherModeIsNotTakenForItsFirst) {
  Scene scene = scene_of(457.0);
  scene.plucks = {{0.25, {{457.0, 50.0, 1.0, 0.0}, {2863.0, 8.0, 0.2, 0.0}}}};
  EXPECT_FALSE(only(hear(sound(scene, 1), scene.rate_hz, {})).sure);
}

TEST(Hear, TwoTonesTooFarApartForAPairAreNamed) {
  Scene scene = scene_of(440.0);
  scene.plucks.push_back({0.25, tooth_rings(480.0)});
  const HeardPluck pluck = only(hear(sound(scene, 1), scene.rate_hz, {.pair = true}));
  EXPECT_FALSE(pluck.sure);
  EXPECT_TRUE(says(pluck.findings, "151 cents apart, too far for a pair"));
}

// Spring steel: about -0.2 cents for each kelvin (half the change of Young's modulus, -240 parts in
// a million a kelvin, from memory).
TEST(Reference, AWarmToothSoundsFlatterThanAtTwentyDegrees) {
  const HeardPluck warm{.own = {{440.0, 0.001, 1.0, 0.5}}, .sure = true};
  const HeardPluck pluck = at_reference(warm, -0.2, 30.0);
  EXPECT_NEAR(cents(pluck.own[0].frequency_hz, 440.0), 2.0, 1e-9);
  EXPECT_EQ(at_reference(warm, -0.2, {}).own[0].frequency_hz, 440.0);
  EXPECT_NEAR(pitch_spread_cents(warm.own[0], -0.2, true), std::hypot(0.1, 0.05, 0.0039), 1e-4);
  EXPECT_NEAR(pitch_spread_cents(warm.own[0], -0.2, false), std::hypot(0.4, 0.05, 0.0039), 1e-4);
}

}  // namespace
}  // namespace combwright::ear
