// SPDX-License-Identifier: Apache-2.0
#include "tuner/whose.h"

#include <cmath>

#include <gtest/gtest.h>

namespace combwright::tuner {
namespace {

// Teeth a whole tone apart, 60 cents flat as cut.
steel::CombDesign comb() {
  steel::CombDesign design;
  for (int i = 0; i < 5; ++i) {
    steel::CombTooth tooth;
    tooth.track = i + 1;
    tooth.target_hz = 440.0 * std::exp2(2.0 * i / 12.0);
    tooth.modes_as_cut_hz = {tooth.target_hz * std::exp2(-60.0 / 1200.0)};
    design.teeth.push_back(tooth);
  }
  return design;
}

double above(double hz, double cents) {
  return hz * std::exp2(cents / 1200.0);
}

TEST(Whose, APitchNearItsRangeIsTheTooths) {
  for (const double cents : {-130.0, -60.0, 0.0, 70.0})
    EXPECT_TRUE(whose(comb(), 20.0, 0, {}, above(440.0, cents)).of_tooth) << cents;
}

TEST(Whose, FurtherOffAnotherToothThatItFitsGoesFirst) {
  const Whose next = whose(comb(), 20.0, 0, {}, above(440.0, 180.0));
  EXPECT_FALSE(next.of_tooth);
  EXPECT_EQ(next.tracks, (std::vector{2}));
  // Between the second, in tune at 200, and the third, as cut at 340: the nearest first.
  EXPECT_EQ(whose(comb(), 20.0, 0, {}, above(440.0, 255.0)).tracks, (std::vector{2}));
  EXPECT_EQ(whose(comb(), 20.0, 0, {}, above(440.0, 300.0)).tracks, (std::vector{3}));
  EXPECT_FALSE(whose(comb(), 20.0, 0, {}, above(440.0, 3000.0)).of_tooth);
}

TEST(Whose, ALoneToothMayLieFarOff) {
  EXPECT_TRUE(whose(comb(), 20.0, 0, {}, above(440.0, -240.0)).of_tooth);
  EXPECT_FALSE(whose(comb(), 20.0, 0, {}, above(440.0, -320.0)).of_tooth);
}

TEST(Whose, ALastReadingCountsForMoreThanTheDesign) {
  const double last_hz = above(440.0, -150.0);
  EXPECT_TRUE(whose(comb(), 20.0, 0, last_hz, above(440.0, -100.0)).of_tooth);
  EXPECT_FALSE(whose(comb(), 20.0, 0, above(440.0, 0.0), above(440.0, 150.0)).of_tooth);
}

}  // namespace
}  // namespace combwright::tuner
