// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "music/midi_files.h"
#include "music/reader.h"

namespace combwright::music {
namespace {

using namespace by_hand;
using testing::HasSubstr;
using testing::Not;

std::string error_of_tune(const Bytes& file) {
  try {
    read_tune(file, "tune");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

constexpr const char* not_a_tune =
    "tune: not a tune; a Standard MIDI File (.mid) or MusicXML (.musicxml, .xml, .mxl) would do";

TEST(ReadTune, KnowsAStandardMidiFileByItsFirstBytes) {
  EXPECT_EQ(read_tune(header(0, 1, 96) + track(c4), "tune").notes.size(), 1);
}

TEST(ReadTune, KnowsAMidiFileWrappedAsRiff) {
  const Bytes file = header(0, 1, 96) + track(c4);
  const Bytes size{static_cast<std::uint8_t>(file.size()), 0, 0, 0};
  EXPECT_EQ(read_tune(text("RIFF") + size + text("RMIDdata") + size + file, "tune").notes.size(),
            1);
}

TEST(ReadTune, SaysWhatWouldDoWhereItIsNeither) {
  for (const char* letters : {"", "tune", "MTh", "RIFF....WAVE", "PK", "\xEF\xBB\xBF"})
    EXPECT_EQ(error_of_tune(text(letters)), not_a_tune) << letters;
}

TEST(ReadTune, TakesMarkupInUtf8AndUtf16AndZipArchivesForMusicXml) {
  // Broken on purpose: what complains is the MusicXML reader.
  using namespace std::string_literals;
  for (const std::string& letters :
       {"<score-partwise>"s, "\xEF\xBB\xBF \r\n<score-partwise>"s, "PK\x03\x04"s,
        "\xFF\xFE<\0s\0>\0"s, "\xFE\xFF\0 \0<\0s\0>"s, "<\0s\0>\0"s}) {
    const std::string error = error_of_tune(text(letters));
    EXPECT_THAT(error, HasSubstr("tune"));
    EXPECT_THAT(error, Not(HasSubstr(not_a_tune)));
  }
}

}  // namespace
}  // namespace combwright::music
