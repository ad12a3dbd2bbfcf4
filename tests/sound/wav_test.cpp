// SPDX-License-Identifier: Apache-2.0
#include "sound/wav.h"

#include <cmath>
#include <string_view>

#include <gtest/gtest.h>

#include "scene.h"

namespace combwright::sound {
namespace {

std::uint32_t little_endian(const Bytes& bytes, std::size_t at, std::size_t size) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < size; ++i)
    value |= static_cast<std::uint32_t>(bytes[at + i]) << (8 * i);
  return value;
}

// Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991), RIFF and
// WAVE: the offsets of a file whose first chunk is "fmt ".
TEST(Wav, HeaderHoldsWhatTheFormatAsksFor) {
  const Preview sound{.sample_rate_hz = 44100, .left = {0.0F, 0.5F}, .right = {0.0F, -0.5F}};
  const auto bytes = wav(sound, "A tune");
  const auto text = as_text(bytes);
  EXPECT_EQ(text.substr(0, 4), "RIFF");
  EXPECT_EQ(little_endian(bytes, 4, 4), bytes.size() - 8);
  EXPECT_EQ(text.substr(8, 8), "WAVEfmt ");
  EXPECT_EQ(little_endian(bytes, 20, 2), 1U);  // PCM
  EXPECT_EQ(little_endian(bytes, 22, 2), 2U);
  EXPECT_EQ(little_endian(bytes, 24, 4), 44100U);
  EXPECT_EQ(little_endian(bytes, 34, 2), 24U);
  EXPECT_NE(text.find("A tune"), std::string_view::npos);
  const auto data = text.find("data");
  ASSERT_NE(data, std::string_view::npos);
  EXPECT_EQ(little_endian(bytes, data + 4, 4), 12U);
  EXPECT_EQ(little_endian(bytes, data + 14, 3), 0x400000U);
  EXPECT_EQ(little_endian(bytes, data + 17, 3), 0xC00000U);
}

TEST(Wav, SamplesAreWithinTheClaimedErrorUpToFullScale) {
  Preview sound;
  for (int i = -1000; i <= 1000; ++i) {
    sound.left.push_back(static_cast<float>(i) / 1000.0F);
    sound.right.push_back(-static_cast<float>(i) / 1000.0F);
  }
  const auto bytes = wav(sound, "");
  const auto data = as_text(bytes).find("data") + 8;
  for (std::size_t i = 0; i < sound.left.size(); ++i) {
    const auto raw = static_cast<std::int32_t>(little_endian(bytes, data + 6 * i, 3) << 8) / 256;
    ASSERT_NEAR(raw / 8388608.0, sound.left[i], wav_error);
  }
}

TEST(Wav, SameSoundGivesTheSameBytes) {
  const auto box = test::large_box();
  const auto disc = test::random_disc(box, 50, 1.0, 11);  // stream "wav bytes"
  const auto bytes = wav(test::heard(box, disc, {.threads = 1}), "Tune");
  EXPECT_EQ(wav(test::heard(box, disc, {.threads = 1}), "Tune"), bytes);
  EXPECT_EQ(wav(test::heard(box, disc, {.threads = 4}), "Tune"), bytes);
}

}  // namespace
}  // namespace combwright::sound
