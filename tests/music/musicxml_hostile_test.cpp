// SPDX-License-Identifier: Apache-2.0
// Files that are wrong or mean harm: one clear error with its place, or a sane tune; never a crash.
#include <filesystem>
#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "music/musicxml_invariants.h"
#include "music/musicxml_scores.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

std::string message_of(const std::string& text) {
  try {
    read_text(text);
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

std::string repeated(const std::string& text, int count) {
  std::string out;
  for (int i = 0; i < count; ++i) out += text;
  return out;
}

TEST(MusicXmlHostile, WhatIsNoScoreIsAnError) {
  EXPECT_THAT(message_of(""), HasSubstr("not well-formed"));
  EXPECT_THAT(message_of("<html/>"), StartsWith("tune.xml:1:1: <html> is no score"));
  EXPECT_THAT(message_of("<score-partwise/>"), HasSubstr("no measures"));
}

TEST(MusicXmlHostile, BrokenXmlIsAnErrorWithItsPlace) {
  EXPECT_THAT(message_of("<score-partwise>\n<part></score-partwise>"), StartsWith("tune.xml:2:"));
}

TEST(MusicXmlHostile, WrongValuesAreErrorsWithTheirPlace) {
  const auto message = [](const std::string& music) {
    return message_of(one_part("<measure>\n" + music + "</measure>"));
  };
  const auto pitched = [](const std::string& inside) {
    return "<note><pitch>" + inside + "</pitch><duration>1</duration></note>";
  };
  const std::string c = pitch('C', 4);
  EXPECT_THAT(message("<attributes>\n <divisions>0</divisions></attributes>"),
              StartsWith("tune.xml:3:2: divisions '0'; a positive number would do"));
  for (const char* divisions : {"-1", "nan", "inf", "1e300", "x", ""})
    EXPECT_THAT(
        message("<attributes><divisions>" + std::string(divisions) + "</divisions></attributes>"),
        StartsWith("tune.xml:2:13: divisions"))
        << divisions;
  for (const char* duration : {"-1", "nan", "inf", "x", ""})
    EXPECT_THAT(message("<note>" + c + "<duration>" + std::string(duration) + "</duration></note>"),
                StartsWith("tune.xml:2:"))
        << duration;
  EXPECT_THAT(message(note('C', 1001)), HasSubstr("a duration of 1001 quarter notes"));
  EXPECT_THAT(message(rest(600) + rest(600)), HasSubstr("a bar of more than 1000 quarter notes"));
  EXPECT_THAT(message("<note>" + c + "</note>"), HasSubstr("<note> without duration"));
  EXPECT_THAT(message("<note><duration>1</duration></note>"), HasSubstr("<note> without pitch"));
  EXPECT_THAT(message(pitched("<step>H</step><octave>4</octave>")), HasSubstr("pitch 'H'"));
  EXPECT_THAT(message(pitched("<step>C</step>")), HasSubstr("in octave ''"));
  EXPECT_THAT(message(pitched("<step>C</step><octave>2000000000</octave>")),
              HasSubstr("beyond hearing"));
  EXPECT_THAT(message(pitched("<step>C</step><alter>1e9</alter><octave>4</octave>")),
              HasSubstr("beyond hearing"));
  EXPECT_THAT(message(pitched("<step>B</step><octave>9</octave>")), HasSubstr("beyond hearing"));
  EXPECT_THAT(message("<attributes><transpose><octave-change>99999</octave-change></transpose>"
                      "</attributes>"),
              HasSubstr("beyond all pitches"));
}

TEST(MusicXmlHostile, EntitiesAreNotExpanded) {
  // The classic bomb of nested entities; the text stays as it is written.
  const std::string bomb =
      "<!DOCTYPE x [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;\"><!ENTITY c \"&b;&b;&b;\">"
      "<!ENTITY file SYSTEM \"file:///etc/passwd\">]>";
  std::string text = one_part(bar(note('C', 4)));
  text.insert(text.find("<part-list>"), "<movement-title>&c;&file;</movement-title>");
  EXPECT_EQ(read_text(bomb + text).title, "&c;&file;");
}

TEST(MusicXmlHostile, DeepNestingDoesNotExhaustTheStack) {
  const int depth = 500'000;
  std::string text = one_part(bar(note('C', 4)));
  text.insert(text.find("<part-list>"), repeated("<a>", depth) + repeated("</a>", depth));
  EXPECT_THAT(pitches(read_text(text)), ElementsAre(60));
  EXPECT_THAT(message_of(repeated("<!DOCTYPE a [<![", 100'000)), HasSubstr("not well-formed"));
}

TEST(MusicXmlHostile, TooManyTagsAreRefused) {
  EXPECT_THAT(message_of("<a>" + repeated("<b/>", 6'000'001) + "</a>"),
              HasSubstr("more than 6000000 tags"));
}

TEST(MusicXmlHostile, ManyNotesTimesManyRepeatsAreRefused) {
  const std::string tied = note('C', 0, "<tie type=\"start\"/><tie type=\"stop\"/>");
  const std::string end =
      "<barline><repeat direction=\"backward\" times=\"1000\"/></barline></measure>";
  EXPECT_THAT(message_of(one_part("<measure>" + repeated(tied, 2000) + end)),
              HasSubstr("more than 1000000 notes"));
  EXPECT_THAT(message_of(one_part("<measure>" +
                                  repeated("<sound tempo=\"60\"><offset>0.1</offset></sound>"
                                           "<sound tempo=\"61\"/><forward><duration>0.2</duration>"
                                           "</forward>",
                                           2000) +
                                  end)),
              HasSubstr("more than 1000000 tempos"));
}

TEST(MusicXmlHostile, AJumpToItselfEnds) {
  const Tune tune =
      read_part(repeated("<measure>" + note('C', 1) +
                             "<sound segno=\"a\" dalsegno=\"a\" tocoda=\"b\" coda=\"b\"/>"
                             "</measure>",
                         300));
  EXPECT_THAT(broken_score(tune), IsEmpty());
}

TEST(MusicXmlHostile, EveryRealFileKeepsThePromisesOfATune) {
  const std::filesystem::path corpus = std::string(COMBWRIGHT_CORPUS_DIR) + "/musicxml";
  if (!std::filesystem::exists(corpus)) GTEST_SKIP() << "run tests/corpus/musicxml.sh";
  int read = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(corpus)) {
    if (!entry.is_regular_file()) continue;
    const std::string path = entry.path().string();
    try {
      EXPECT_THAT(broken_score(read_musicxml(read_file(path), path)), IsEmpty()) << path;
      ++read;
    } catch (const Error& error) {
      // The one file with a part that its part list does not name.
      EXPECT_THAT(error.what(), HasSubstr("testPartsSpecialCases.xml:66:3: part 'P3'"));
    }
  }
  EXPECT_EQ(read, 415);
}

TEST(MusicXmlHostile, CutAndFlippedFilesNeverCrash) {
  const std::string base =
      one_part(bar(grace('D') + note('C', 4, "<tie type=\"start\"/>") +
                   note('E', 4, "<notations><arpeggiate/></notations>", "<chord/>") + rest(4) +
                   "<backup><duration>4</duration></backup>" + note('F', 8)) +
               "<measure number=\"2\"><barline location=\"left\"><ending number=\"1\" "
               "type=\"start\"/></barline>" +
               note('G', 16) +
               "<barline><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\" "
               "times=\"3\"/></barline></measure>");
  ASSERT_THAT(broken_score(read_text(base)), IsEmpty());
  const auto survives = [](const std::string& text) {
    try {
      EXPECT_THAT(broken_score(read_text(text)), IsEmpty()) << text;
    } catch (const Error&) {
      // An error is a good answer to a bad file.
    }
  };
  for (std::size_t length = 0; length < base.size(); ++length) survives(base.substr(0, length));
  std::mt19937 random(20'250'101);
  for (int round = 0; round < 20'000; ++round) {
    std::string text = base;
    const std::size_t flips = 1 + random() % 4;
    for (std::size_t i = 0; i < flips; ++i)
      text[random() % text.size()] = static_cast<char>(random() % 256);
    survives(text);
  }
}

}  // namespace
}  // namespace combwright::music
