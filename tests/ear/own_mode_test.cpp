// SPDX-License-Identifier: Apache-2.0
#include "ear/own_mode.h"

#include <gtest/gtest.h>

namespace combwright::ear {
namespace {

FoundRing ring(double hz, double decay_per_s, double amplitude, std::optional<bool> older = false) {
  return {{hz, decay_per_s, amplitude, 0.0}, {0.001, 0.01, 0.001}, amplitude, older};
}

TEST(OwnMode, AHigherModeMayBeMuchLouderThanTheFirst) {
  const Kinds kinds = tell_kinds({ring(2760.0, 8.0, 1.0), ring(440.0, 2.0, 0.05)}, 1.0, {});
  EXPECT_EQ(kinds.own, 1U);
  EXPECT_EQ(kinds.of[0], Kind::partial);
}

TEST(OwnMode, AFaintToneBelowIsNotTheToothUnlessTheOtherCanBeItsHigherMode) {
  EXPECT_EQ(tell_kinds({ring(440.0, 2.0, 1.0), ring(300.0, 2.0, 0.05)}, 1.0, {}).own, 0U);
  EXPECT_EQ(tell_kinds({ring(440.0, 2.0, 1.0), ring(70.0, 2.0, 0.05)}, 1.0, {}).own, 1U);
}

TEST(OwnMode, HumIsNoToothWhereItMayHaveRungBefore) {
  EXPECT_EQ(tell_kinds({ring(150.02, 0.0, 1.0, true)}, 1.0, {}).of[0], Kind::mains);
  EXPECT_EQ(tell_kinds({ring(150.02, 0.0, 1.0, {})}, 1.0, {}).of[0], Kind::mains);
  EXPECT_EQ(tell_kinds({ring(150.02, 0.0, 1.0, false)}, 1.0, {}).of[0], Kind::own);
  // A tooth at the pitch of a harmonic dies.
  EXPECT_EQ(tell_kinds({ring(150.02, 2.0, 1.0, {})}, 1.0, {}).of[0], Kind::own);
}

TEST(OwnMode, AToothThatRingsLongAtAHarmonicIsNoHum) {
  // E5 beside 11 x 60 Hz, its beginning not heard.
  EXPECT_EQ(tell_kinds({ring(659.26, 0.25, 1.0, {})}, 2.0, {}).of[0], Kind::own);
  EXPECT_EQ(tell_kinds({ring(660.0, 0.0, 1.0, {})}, 2.0, 659.0).of[0], Kind::own);
  EXPECT_EQ(tell_kinds({ring(660.0, 0.0, 1.0, {})}, 2.0, 700.0).of[0], Kind::mains);
}

TEST(OwnMode, WhatMayHaveRungBeforeGoesBehindWhatBegan) {
  EXPECT_EQ(tell_kinds({ring(440.0, 2.0, 1.0), ring(70.0, 2.0, 0.05, {})}, 1.0, {}).own, 0U);
  EXPECT_EQ(tell_kinds({ring(440.0, 2.0, 1.0, {}), ring(70.0, 2.0, 0.05, {})}, 1.0, {}).own, 1U);
}

TEST(OwnMode, AToneThatDiesAtOnceMayBeACrackedTooth) {
  EXPECT_EQ(tell_kinds({ring(457.0, 50.0, 1.0), ring(2863.0, 8.0, 0.2)}, 1.0, {}).rival, 0U);
  EXPECT_FALSE(tell_kinds({ring(457.0, 50.0, 0.1), ring(2863.0, 8.0, 0.2)}, 1.0, {}).rival);
}

TEST(OwnMode, WhatRangBeforeIsNotThePluck) {
  const Kinds kinds = tell_kinds({ring(440.0, 2.0, 0.1), ring(415.0, 2.0, 1.0, true)}, 1.0, {});
  EXPECT_EQ(kinds.own, 0U);
  EXPECT_EQ(kinds.of[1], Kind::older);
}

TEST(OwnMode, AKnockIsNoTooth) {
  EXPECT_FALSE(tell_kinds({ring(180.0, 60.0, 1.0)}, 1.0, {}).own);
}

TEST(OwnMode, ThePitchToLookForDecidesBetweenTwo) {
  const std::vector<FoundRing> both{ring(440.0, 2.0, 0.5), ring(494.0, 2.0, 0.6)};
  EXPECT_TRUE(tell_kinds(both, 1.0, {}).rival);
  EXPECT_EQ(tell_kinds(both, 1.0, 500.0).own, 1U);
  EXPECT_EQ(tell_kinds(both, 1.0, 430.0).own, 0U);
  EXPECT_FALSE(tell_kinds(both, 1.0, 880.0).own);
}

}  // namespace
}  // namespace combwright::ear
