// SPDX-License-Identifier: Apache-2.0
// Containers and encodings: MusicXML 4.0, "Compressed .MXL Files"; Unicode 15, chapter 3.
#include <filesystem>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <zip.h>

#include "base/error.h"
#include "base/file.h"
#include "music/musicxml_scores.h"
#include "music/musicxml_text.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::SizeIs;

using Entries = std::vector<std::pair<std::string, std::string>>;

// A zip archive made by libzip in memory.
Bytes zipped(const Entries& entries) {
  zip_error_t error;
  zip_source_t* source = zip_source_buffer_create(nullptr, 0, 0, &error);
  zip_source_keep(source);
  zip_t* archive = zip_open_from_source(source, ZIP_TRUNCATE, &error);
  for (const auto& [name, text] : entries)
    zip_file_add(archive, name.c_str(), zip_source_buffer(archive, text.data(), text.size(), 0),
                 ZIP_FL_ENC_UTF_8);
  zip_close(archive);
  zip_source_open(source);
  zip_source_seek(source, 0, SEEK_END);
  Bytes bytes(static_cast<std::size_t>(zip_source_tell(source)));
  zip_source_seek(source, 0, SEEK_SET);
  zip_source_read(source, bytes.data(), bytes.size());
  zip_source_close(source);
  zip_source_free(source);
  return bytes;
}

std::string container(const std::string& path) {
  return "<container><rootfiles><rootfile full-path=\"" + path + "\"/></rootfiles></container>";
}

std::string message_of(const Bytes& bytes) {
  try {
    read_musicxml(bytes, "tune.mxl");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

std::string utf16(const std::string& ascii, bool big_endian, bool mark) {
  std::string out = mark ? (big_endian ? "\xFE\xFF" : "\xFF\xFE") : "";
  for (const char c : ascii) {
    if (big_endian) out.push_back('\0');
    out.push_back(c);
    if (!big_endian) out.push_back('\0');
  }
  return out;
}

TEST(MusicXmlFiles, ACompressedScoreIsFoundThroughItsContainer) {
  const std::string good = one_part(bar(note('C', 4)));
  const Bytes bytes = zipped({{"other.xml", one_part(bar(note('D', 4)))},
                              {"META-INF/container.xml", container("deep/score.xml")},
                              {"deep/score.xml", good}});
  EXPECT_THAT(pitches(read_musicxml(bytes, "tune.mxl")), ElementsAre(60));
}

TEST(MusicXmlFiles, WithoutAContainerTheFirstScoreIsTaken) {
  const Bytes bytes = zipped({{"notes.txt", "x"}, {"a.musicxml", one_part(bar(note('E', 4)))}});
  EXPECT_THAT(pitches(read_musicxml(bytes, "tune.mxl")), ElementsAre(64));
}

TEST(MusicXmlFiles, AnErrorInsideAnArchiveNamesTheEntryAndItsLine) {
  EXPECT_THAT(message_of(zipped({{"a.xml",
                                  "<score-partwise>\n  <part id=\"x\"/>"
                                  "</score-partwise>"}})),
              HasSubstr("tune.mxl(a.xml):2:3: part 'x' is not in the part list"));
}

TEST(MusicXmlFiles, AnArchiveWithoutAScoreIsAnError) {
  EXPECT_THAT(message_of(zipped({{"a.txt", "x"}})), HasSubstr("no score in the archive"));
  EXPECT_THAT(message_of(zipped({{"META-INF/container.xml", container("gone.xml")}})),
              HasSubstr("no score in the archive"));
}

TEST(MusicXmlFiles, ADamagedArchiveIsAnError) {
  Bytes bytes = zipped({{"a.xml", one_part(bar(note('C', 4)))}});
  EXPECT_THAT(message_of(Bytes(bytes.begin(), bytes.begin() + 40)), HasSubstr("damaged"));
  bytes[60] ^= 0xFF;
  EXPECT_THAT(message_of(bytes), Not(IsEmpty()));
}

TEST(MusicXmlFiles, AZipBombIsRefusedByItsRatioAndByItsSize) {
  EXPECT_THAT(message_of(zipped({{"a.xml", std::string(8 << 20, ' ')}})),
              HasSubstr("more than 300 times its size"));
  // Noise of 16 letters shrinks to about half and passes the ratio.
  std::string large(max_input_bytes + 1, ' ');
  std::uint32_t state = 1;
  for (char& c : large) {
    state = state * 1664525U + 1013904223U;
    c = static_cast<char>('a' + (state >> 28U));
  }
  EXPECT_THAT(message_of(zipped({{"a.xml", large}})), HasSubstr("unpacks to more than"));
}

TEST(MusicXmlFiles, AnArchiveOfTooManyEntriesIsRefused) {
  Entries entries;
  for (int i = 0; i < 1001; ++i) entries.emplace_back(std::to_string(i), "x");
  EXPECT_THAT(message_of(zipped(entries)), HasSubstr("more than 1000 files"));
}

TEST(MusicXmlFiles, AllEncodingsReadAlikeWhateverTheyDeclare) {
  const std::string text =
      "<?xml version=\"1.0\" encoding=\"UTF-16\"?>\n" + one_part(bar(note('C', 4)));
  for (const std::string& bytes :
       {text, "\xEF\xBB\xBF" + text, utf16(text, true, true), utf16(text, false, true),
        utf16(text, true, false), utf16(text, false, false)})
    EXPECT_THAT(pitches(read_text(bytes)), ElementsAre(60));
}

TEST(MusicXmlFiles, TextIsBroughtToUtf8) {
  EXPECT_EQ(musicxml::to_utf8("F\xFCr"), "F\xC3\xBCr");
  EXPECT_EQ(musicxml::to_utf8("F\xC3\xBCr"), "F\xC3\xBCr");
  // U+1D11E, the G clef, is the pair D834 DD1E; a lone half becomes the replacement character.
  EXPECT_EQ(musicxml::to_utf8(std::string("\xFE\xFF\xD8\x34\xDD\x1E", 6)), "\xF0\x9D\x84\x9E");
  EXPECT_EQ(musicxml::to_utf8(std::string("\xFE\xFF\xD8\x34\0A", 6)),
            "\xEF\xBF\xBD"
            "A");
}

TEST(MusicXmlFiles, CleanTextIsOneLineOfValidUtf8) {
  EXPECT_EQ(musicxml::clean(" a\n\t b\x01 \xFF"), "a b");
  EXPECT_EQ(musicxml::clean("\xC3\xBC\xC3\xBC", 3), "\xC3\xBC");
}

class MusicXmlTwins : public ::testing::TestWithParam<std::string> {};

TEST_P(MusicXmlTwins, ACompressedFileReadsAsItsPlainTwin) {
  const std::string stem = std::string(COMBWRIGHT_CORPUS_DIR) + "/musicxml/" + GetParam();
  if (!std::filesystem::exists(stem + ".mxl")) GTEST_SKIP() << "run tests/corpus/musicxml.sh";
  const Tune plain = read_musicxml(read_file(stem + ".xml"), "twin");
  const Tune packed = read_musicxml(read_file(stem + ".mxl"), "twin");
  ASSERT_THAT(plain.notes, Not(IsEmpty()));
  EXPECT_EQ(pitches(packed), pitches(plain));
  EXPECT_EQ(onsets(packed), onsets(plain));
  EXPECT_EQ(durations(packed), durations(plain));
  EXPECT_EQ(bar_lengths(packed), bar_lengths(plain));
  EXPECT_EQ(packed.title, plain.title);
}

INSTANTIATE_TEST_SUITE_P(Files, MusicXmlTwins,
                         ::testing::Values<std::string>(
                             "io/testHello", "musicxml/testHello", "vexflow/ActorPreludeSample",
                             "vexflow/BeetAnGeSample", "vexflow/Binchois", "vexflow/BrahWiMeSample",
                             "vexflow/BrookeWestSample", "vexflow/Chant", "vexflow/DebuMandSample",
                             "vexflow/Dichterliebe01", "vexflow/Echigo-Jishi",
                             "vexflow/FaurReveSample", "vexflow/MahlFaGe4Sample",
                             "vexflow/MozaChloSample", "vexflow/MozaVeilSample",
                             "vexflow/MozartPianoSonata", "vexflow/MozartTrio",
                             "vexflow/Saltarello", "vexflow/SchbAvMaSample", "vexflow/Telemann"));

}  // namespace
}  // namespace combwright::music
