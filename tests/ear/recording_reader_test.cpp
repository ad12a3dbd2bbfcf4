// SPDX-License-Identifier: Apache-2.0
#include "ear/recording_reader.h"

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <sndfile.h>

#include "base/error.h"
#include "sound_file.h"

namespace combwright::ear {
namespace {

using test::sound_file;

std::vector<double> tone(std::size_t frames, double hz) {
  std::vector<double> samples;
  for (std::size_t i = 0; i < frames; ++i)
    samples.push_back(0.9 * std::sin(0.001 * hz * static_cast<double>(i)));
  return samples;
}

std::string complaint(const Bytes& bytes) {
  try {
    read_recording(bytes, "take.wav");
  } catch (const Error& error) {
    return error.what();
  }
  return "none";
}

Bytes wav(const std::vector<double>& samples, int rate_hz = 48000) {
  return sound_file({samples}, rate_hz, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
}

struct Kind {
  int format;
  int rate_hz;
  std::size_t channels;
  std::string text;
  double error;  // half a step of rounding, and one because 1 may be written as a step less
};

const std::vector<Kind> kinds = {
    {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, "WAV, 16 bit", 0x1.8p-15},
    {SF_FORMAT_WAV | SF_FORMAT_PCM_24, 96000, 2, "WAV, 24 bit", 0x1.8p-23},
    {SF_FORMAT_WAVEX | SF_FORMAT_PCM_24, 48000, 8, "WAV, 24 bit", 0x1.8p-23},
    {SF_FORMAT_WAV | SF_FORMAT_PCM_32, 768000, 1, "WAV, 32 bit", 0x1.8p-31},
    {SF_FORMAT_WAV | SF_FORMAT_FLOAT, 8000, 2, "WAV, 32-bit float", 0x1p-24},
    {SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 48000, 1, "WAV, 64-bit float", 0.0},
    {SF_FORMAT_WAV | SF_FORMAT_PCM_16 | SF_ENDIAN_BIG, 48000, 1, "WAV, 16 bit", 0x1.8p-15},
    {SF_FORMAT_RF64 | SF_FORMAT_PCM_16, 48000, 1, "WAV, 16 bit", 0x1.8p-15},
    {SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 44100, 2, "AIFF, 16 bit", 0x1.8p-15},
    {SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 48000, 1, "AIFF, 24 bit", 0x1.8p-23},
    {SF_FORMAT_AIFF | SF_FORMAT_FLOAT, 48000, 1, "AIFF, 32-bit float", 0x1p-24},
    {SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 44100, 1, "FLAC, 16 bit", 0x1.8p-15},
    {SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 192000, 2, "FLAC, 24 bit", 0x1.8p-23},
};

Bytes file_of(const Kind& kind, std::size_t frames) {
  std::vector<std::vector<double>> channels;
  for (std::size_t c = 0; c < kind.channels; ++c)
    channels.push_back(tone(frames, 40.0 + 7.0 * static_cast<double>(c)));
  return sound_file(channels, kind.rate_hz, kind.format);
}

TEST(RecordingReader, EveryKindComesBackToItsLastBit) {
  for (const Kind& kind : kinds) {
    const Recording recording = read_recording(file_of(kind, 10007), "take");
    EXPECT_EQ(recording.format, kind.text);
    EXPECT_EQ(recording.rate_hz, kind.rate_hz);
    EXPECT_FALSE(recording.cut_short) << kind.text;
    ASSERT_EQ(recording.channels.size(), kind.channels);
    for (std::size_t c = 0; c < kind.channels; ++c) {
      const std::vector<double> written = tone(10007, 40.0 + 7.0 * static_cast<double>(c));
      ASSERT_EQ(recording.channels[c].size(), written.size()) << kind.text;
      for (std::size_t i = 0; i < written.size(); ++i)
        ASSERT_NEAR(recording.channels[c][i], written[i], kind.error) << kind.text << ", " << i;
    }
  }
}

TEST(RecordingReader, AFileThatEndsEarlyIsReadAsFarAsItGoesAndSaysSo) {
  for (const Kind& kind : kinds) {
    const Bytes whole = file_of(kind, 9000);
    const Recording all = read_recording(whole, "take");
    const std::size_t step = std::max<std::size_t>(1, whole.size() / 97);
    std::size_t read = 0;
    for (std::size_t size = 0; size < whole.size(); size += size < 200 ? 1 : step) {
      const Bytes cut(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(size));
      try {
        const Recording part = read_recording(cut, "take");
        ++read;
        EXPECT_EQ(part.cut_short, part.frames() < all.frames()) << kind.text << ", " << size;
        for (std::size_t i = 0; i < part.frames(); ++i)
          ASSERT_EQ(part.channels[0][i], all.channels[0][i]) << kind.text << ", " << size;
      } catch (const Error& error) {
        EXPECT_THAT(error.what(), testing::StartsWith("take: ")) << size;
      }
    }
    EXPECT_GT(read, 50U) << kind.text;
  }
}

// A program that writes into a pipe can't know the length and leaves the largest.
TEST(RecordingReader, AFileThatWentThroughAPipeIsNotCutShort) {
  Bytes bytes = wav(tone(1000, 40.0));
  const auto data = static_cast<std::ptrdiff_t>(as_text(bytes).find("data"));
  std::fill_n(bytes.begin() + 4, 4, std::uint8_t{0xFF});
  std::fill_n(bytes.begin() + data + 4, 4, std::uint8_t{0xFF});
  const Recording recording = read_recording(bytes, "piped.wav");
  EXPECT_EQ(recording.frames(), 1000U);
  EXPECT_FALSE(recording.cut_short);
}

TEST(RecordingReader, WhatIsNoRecordingIsRefusedInOneLine) {
  EXPECT_EQ(complaint({}),
            "take.wav: no recording in WAV, AIFF or FLAC; export it as WAV with 24 bit at 48 kHz");
  EXPECT_EQ(complaint({'R', 'I', 'F', 'F'}),
            "take.wav: no recording in WAV, AIFF or FLAC; export it as WAV with 24 bit at 48 kHz");
  EXPECT_THAT(complaint(sound_file({tone(100, 40.0)}, 48000, SF_FORMAT_AU | SF_FORMAT_PCM_16)),
              testing::HasSubstr("no recording in WAV, AIFF or FLAC"));
  const Bytes header = {'R', 'I', 'F', 'F', 4, 0, 0, 0, 'W', 'A', 'V', 'E'};
  EXPECT_THAT(complaint(header), testing::HasSubstr("can't be read as WAV: "));
  EXPECT_EQ(complaint(wav({})), "take.wav: no sound that can be read in it; record it again");
}

TEST(RecordingReader, SamplesThatLostTooMuchAreRefused) {
  for (const int format : {SF_FORMAT_PCM_U8, SF_FORMAT_ULAW, SF_FORMAT_IMA_ADPCM})
    EXPECT_EQ(complaint(sound_file({tone(4000, 40.0)}, 48000, SF_FORMAT_WAV | format)),
              "take.wav: its samples are compressed or have 8 bits; 16, 24 or 32 bits or floating "
              "point would do");
}

TEST(RecordingReader, LimitsAreNamedWithWhatWouldDo) {
  EXPECT_EQ(complaint(wav(tone(100, 40.0), 7999)),
            "take.wav: 7999 samples a second; 8000 to 768000 would do");
  EXPECT_EQ(complaint(wav(tone(100, 40.0), 768001)),
            "take.wav: 768001 samples a second; 8000 to 768000 would do");
  EXPECT_EQ(complaint(sound_file(std::vector<std::vector<double>>(9, tone(100, 40.0)), 48000,
                                 SF_FORMAT_WAV | SF_FORMAT_PCM_16)),
            "take.wav: 9 channels; 1 to 8 would do");
  EXPECT_EQ(complaint(wav(tone(8000 * 900 + 1, 40.0), 8000)),
            "take.wav: longer than 900 s; cut it into several takes");
  EXPECT_EQ(read_recording(wav(tone(8000 * 900, 40.0), 8000), "take").seconds(), 900.0);
}

// Half an hour of silence packs into a few kilobytes.
TEST(RecordingReader, PackedSilenceDoesNotFillTheMemory) {
  const Bytes packed =
      sound_file({std::vector<double>(1800 * 8000)}, 8000, SF_FORMAT_FLAC | SF_FORMAT_PCM_16);
  EXPECT_LT(packed.size(), 200000U);
  EXPECT_THAT(complaint(packed), testing::HasSubstr("longer than 900 s"));
}

TEST(RecordingReader, ASampleThatIsNoNumberIsRefusedWithItsTime) {
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), -std::numeric_limits<double>::infinity(), 1e30}) {
    std::vector<double> samples = tone(48000, 40.0);
    samples[12000] = bad;
    EXPECT_EQ(complaint(sound_file({samples}, 48000, SF_FORMAT_WAV | SF_FORMAT_DOUBLE)),
              std::string("take.wav: the sample at 0.250000 s is ") +
                  (bad == 1e30 ? "far over full scale" : "no number") +
                  "; export it as WAV with 24 bit at 48 kHz");
  }
}

// The length in the header's 36 bits at byte 21 of the file may be left at 0 (RFC 9639, 8.2).
TEST(RecordingReader, DamageIsToldThoughTheHeaderHasNoLength) {
  Bytes bytes = file_of(kinds[11], 60000);
  bytes[21] &= 0xF0;
  std::fill(bytes.begin() + 22, bytes.begin() + 26, std::uint8_t{0});
  EXPECT_FALSE(read_recording(bytes, "take").cut_short);
  for (std::size_t i = 0; i < 30; ++i) bytes[bytes.size() / 2 + i] ^= 0x55;
  const Recording part = read_recording(bytes, "take");
  EXPECT_TRUE(part.cut_short);
  EXPECT_LT(part.frames(), 60000U);
}

// Its frames have checksums (RFC 9639, 9.3).
TEST(RecordingReader, DamagedFlacIsReadUpToTheDamage) {
  const Bytes whole = file_of(kinds[11], 60000);
  const Recording all = read_recording(whole, "take");
  std::mt19937 random(3);
  for (int i = 0; i < 200; ++i) {
    Bytes bytes = whole;
    const std::size_t at = 100 + random() % (bytes.size() - 110);
    bytes[at] ^= static_cast<std::uint8_t>(1U << random() % 8);
    try {
      const Recording part = read_recording(bytes, "take");
      ASSERT_LE(part.frames(), all.frames());
      EXPECT_TRUE(part.cut_short || part.frames() == all.frames()) << at;
      for (std::size_t n = 0; n < part.frames(); ++n)
        ASSERT_EQ(part.channels[0][n], all.channels[0][n]) << at << ", " << n;
    } catch (const Error& error) {
      EXPECT_STREQ(error.what(), "take: no sound that can be read in it; record it again") << at;
    }
  }
}

}  // namespace
}  // namespace combwright::ear
