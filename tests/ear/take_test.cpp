// SPDX-License-Identifier: Apache-2.0
#include "ear/take.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "signals.h"

namespace combwright::ear {
namespace {

using namespace test;

// A G major comb with every second tooth doubled, each a few cents off.
std::vector<double> targets() {
  std::vector<double> hz;
  for (const int midi : {55, 57, 57, 59, 60, 60, 62, 64, 64, 66, 67, 67})
    hz.push_back(440.0 * std::exp2((midi - 69) / 12.0));
  return hz;
}

std::vector<ExpectedTooth> expected() {
  std::vector<ExpectedTooth> teeth;
  for (const double hz : targets()) teeth.push_back({hz * std::exp2(-80.0 / 1200.0), hz});
  return teeth;
}

// A semitone flat at most: as cut.
std::vector<double> pitches() {
  std::vector<double> hz = targets();
  for (std::size_t i = 0; i < hz.size(); ++i)
    hz[i] *= std::exp2(-static_cast<double>(i % 5) * 20.0 / 1200.0);
  return hz;
}

Scene scene_of(const std::vector<double>& hz) {
  Scene scene = comb_take(hz, 24000.0, 0.4, 0.9, 3.0, 8);
  scene.seconds = 0.9 * static_cast<double>(hz.size()) + 1.0;
  scene.noise = 0.002;
  scene.hum = 0.02;
  scene.click = 0.5;
  scene.level = 0.2;
  return scene;
}

void expect_pitches(const Take& take, const std::vector<double>& truth) {
  for (std::size_t t = 0; t < truth.size(); ++t) {
    ASSERT_TRUE(take.teeth[t].pluck) << t;
    EXPECT_NEAR(1200.0 * std::log2(take.teeth[t].pluck->own[0].frequency_hz / truth[t]), 0.0, 0.3)
        << t;
  }
}

TEST(Take, EveryToothInItsTurn) {
  const Scene scene = scene_of(pitches());
  const Take take = hear_take(sound(scene, 1), scene.rate_hz, expected());
  expect_pitches(take, pitches());
  EXPECT_FALSE(take.backwards);
  EXPECT_TRUE(take.extra.empty());
}

TEST(Take, FromTheLastToothToTheFirst) {
  std::vector<double> reversed = pitches();
  std::reverse(reversed.begin(), reversed.end());
  const Scene scene = scene_of(reversed);
  const Take take = hear_take(sound(scene, 1), scene.rate_hz, expected());
  EXPECT_TRUE(take.backwards);
  expect_pitches(take, pitches());
}

TEST(Take, AToothLeftOutIsMissingAndAStrangePluckIsExtra) {
  Scene scene = scene_of(pitches());
  scene.plucks.erase(scene.plucks.begin() + 4);
  scene.plucks[8].rings = tooth_rings(1200.0);
  const Take take = hear_take(sound(scene, 1), scene.rate_hz, expected());
  // One of the two teeth of the same note; which of them can't be known.
  EXPECT_NE(take.teeth[4].pluck.has_value(), take.teeth[5].pluck.has_value());
  EXPECT_FALSE(take.teeth[9].pluck);
  ASSERT_EQ(take.extra.size(), 1U);
  EXPECT_NEAR(take.extra[0].own[0].frequency_hz, 1200.0, 0.1);
}

TEST(Take, TwoTeethOfOneNoteInQuickTurnAreTwo) {
  Scene scene = scene_of(pitches());
  const std::vector<double> flat = pitches();
  // The second A comes so soon that it might be the first one touched again.
  scene.plucks[2].onset_s = scene.plucks[1].onset_s + 0.27;
  scene.plucks[2].rings = tooth_rings(flat[1] * std::exp2(10.0 / 1200.0));
  const Take take = hear_take(sound(scene, 1), scene.rate_hz, expected());
  ASSERT_TRUE(take.teeth[1].pluck && take.teeth[2].pluck);
  EXPECT_LT(take.teeth[1].pluck->onset_s, take.teeth[2].pluck->onset_s);
}

TEST(Take, AnotherCombIsAFault) {
  std::vector<ExpectedTooth> many = expected();
  for (int i = 1; i <= 18; ++i) many.push_back({700.0 + 50.0 * i, 705.0 + 50.0 * i});
  const Scene scene = scene_of(pitches());
  EXPECT_TRUE(has_fault(hear_take(sound(scene, 1), scene.rate_hz, many).findings));
}

TEST(Take, ACombThatStandsFlatAsAWholeIsToldSo) {
  std::vector<double> flat = targets();
  for (double& hz : flat) hz *= std::exp2(-140.0 / 1200.0);
  const Scene scene = scene_of(flat);
  const Take take = hear_take(sound(scene, 1), scene.rate_hz, expected());
  ASSERT_EQ(take.findings.size(), 1U);
  EXPECT_NE(take.findings[0].what.find("60 cents flat"), std::string::npos)
      << take.findings[0].what;
}

TEST(Take, SilenceIsAFault) {
  EXPECT_TRUE(has_fault(hear_take(std::vector<double>(24000), 24000.0, expected()).findings));
}

}  // namespace
}  // namespace combwright::ear
