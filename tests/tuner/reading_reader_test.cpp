// SPDX-License-Identifier: Apache-2.0
#include "tuner/reading_reader.h"

#include <string>

#include <gmock/gmock.h>

#include "base/error.h"
#include "base/reference.h"

namespace combwright::tuner {
namespace {

using testing::HasSubstr;

std::string refusal(const std::string& json) {
  try {
    read_readings(json, "r.json");
  } catch (const Error& error) {
    return error.what();
  }
  return "taken";
}

TEST(ReadingReader, TakesAllThatIsKnownOfAReading) {
  const auto readings = read_readings(
      R"([{"frequency_hz": 431.2},
          {"frequency_hz": 436.9, "stderr_hz": 0.04, "clipped_length_m": 5e-4, "filed_tip_m": 1e-5,
           "filed_root_m": 2e-5, "decay_s": 0.8, "partials_hz": [2700, 7600], "who": "me"}])",
      "r.json");
  ASSERT_EQ(readings.size(), 2u);
  EXPECT_EQ(readings[0].frequency_hz, 431.2);
  EXPECT_TRUE(readings[0].since.nothing());
  EXPECT_FALSE(readings[0].decay_s);
  EXPECT_EQ(spread_cents(readings[0]), good_reading_cents);
  EXPECT_EQ(readings[1].since.clip_m, 5e-4);
  EXPECT_EQ(readings[1].since.file_tip_m, 1e-5);
  EXPECT_EQ(readings[1].since.file_root_m, 2e-5);
  EXPECT_EQ(readings[1].decay_s, 0.8);
  EXPECT_EQ(readings[1].partials_hz.size(), 2u);
  // 1200 log2(1 + 0.04 / 436.9)
  EXPECT_NEAR(spread_cents(readings[1]), 0.158494, 1e-6);
}

TEST(ReadingReader, RefusesWhatIsNoReadingWithItsPlace) {
  EXPECT_THAT(refusal(""), HasSubstr("r.json:1:1: this is not JSON"));
  EXPECT_THAT(refusal("[\n{\"frequency_hz\" 3}]"), HasSubstr("r.json:2:"));
  EXPECT_THAT(refusal("{}"), HasSubstr("this is not a list"));
  EXPECT_THAT(refusal("[]"), HasSubstr("holds no reading"));
  EXPECT_THAT(refusal("[3]"), HasSubstr("reading 1 is not an object"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440}, {}]"), HasSubstr("reading 2 has no frequency_hz"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": \"440\"}]"), HasSubstr("reading 1 has a frequency_hz"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 0}]"), HasSubstr("from 1 to 100000"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440, \"stderr_hz\": -1}]"), HasSubstr("stderr_hz"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440, \"stderr_hz\": 300}]"), HasSubstr("stderr_hz"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440, \"clipped_length_m\": 1.5}]"),
              HasSubstr("clipped_length_m that is no number from 0 to 1"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440, \"partials_hz\": 3}]"), HasSubstr("partials_hz"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 440, \"cliped_length_m\": 0.001}]"),
              HasSubstr("has a key \"cliped_length_m\"; did you mean \"clipped_length_m\"?"));
  EXPECT_THAT(refusal("[{\"frequency_hz\": 1e999}]"), HasSubstr("too large"));
}

TEST(ReadingReader, BoundsWhatItReads) {
  EXPECT_THAT(refusal(std::string(100'000, '[')), HasSubstr("too deep or too large"));
  EXPECT_THAT(refusal(std::string(most_readings_bytes + 1, ' ')), HasSubstr("too many"));
  std::string many = "[";
  for (std::size_t i = 0; i <= most_readings; ++i)
    many += std::string(i > 0 ? "," : "") + "{\"frequency_hz\": 440}";
  EXPECT_THAT(refusal(many + "]"), HasSubstr("has 101 readings of one tooth; up to 100"));
}

}  // namespace
}  // namespace combwright::tuner
