// SPDX-License-Identifier: Apache-2.0
#include "app/arrange_options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"

namespace combwright::app {
namespace {

std::string message_of(const ArrangeTexts& texts) {
  try {
    parsed(texts);
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

TEST(ArrangeOptions, NothingGivenLeavesAllToTheArranger) {
  const arrange::Options options = parsed({});
  EXPECT_FALSE(options.bars || options.transpose_semitones || options.tempo_factor);
}

TEST(ArrangeOptions, GoodTextsAreRead) {
  const arrange::Options options = parsed({.bars = "3-18", .transpose = "-2", .tempo = "96 %"});
  EXPECT_EQ(options.bars->first, 3);
  EXPECT_EQ(options.bars->last, 18);
  EXPECT_EQ(options.transpose_semitones, -2);
  EXPECT_DOUBLE_EQ(options.tempo_factor.value(), 0.96);
  EXPECT_EQ(parsed({.transpose = "+7"}).transpose_semitones, 7);
}

TEST(ArrangeOptions, ABadRangeOfBarsIsNamed) {
  for (const char* bars : {"a-b", "1-2-3", "-1-4", "99999999999-2", "x", "3-b"})
    EXPECT_EQ(message_of({.bars = bars}),
              std::string("--bars ") + bars +
                  " is no range of bars; write FIRST-LAST counted from 1 as played, such as --bars "
                  "1-16");
}

TEST(ArrangeOptions, ARangeOfBarsThatIsNearlyRightIsMended) {
  EXPECT_EQ(message_of({.bars = "5"}),
            "--bars 5 names one bar; write --bars 5-5 for that bar alone");
  EXPECT_EQ(message_of({.bars = "8-"}),
            "--bars 8- has no last bar; write the last bar too, such as --bars 8-23");
  EXPECT_EQ(message_of({.bars = "3-2"}), "--bars 3-2 ends before it begins; write --bars 2-3");
  EXPECT_THAT(message_of({.bars = "0-4"}), testing::HasSubstr("begins before the first bar"));
  EXPECT_THAT(message_of({.bars = "2147483647-"}), testing::HasSubstr("has no last bar"));
}

TEST(ArrangeOptions, ABadTranspositionIsNamedWithTheReach) {
  for (const char* transpose : {"2.5", "x", "99999999999", "+-3", "3 "})
    EXPECT_THAT(message_of({.transpose = transpose}),
                testing::HasSubstr("is no number of semitones; write a whole number"));
  EXPECT_EQ(
      message_of({.transpose = "40"}),
      "--transpose 40 is out of reach; write a whole number of semitones from -24 to 24, such "
      "as --transpose -3");
  EXPECT_THAT(message_of({.transpose = "-2147483648"}), testing::HasSubstr("is out of reach"));
  EXPECT_EQ(message_of({.transpose = "-24"}), "");
}

TEST(ArrangeOptions, ABareNumberIsNoTempo) {
  EXPECT_THAT(message_of({.tempo = "0.96"}),
              testing::StartsWith("--tempo: 0.96 is a bare number; "));
  EXPECT_THAT(message_of({.tempo = "0 %"}), testing::HasSubstr("is no speed"));
}

}  // namespace
}  // namespace combwright::app
