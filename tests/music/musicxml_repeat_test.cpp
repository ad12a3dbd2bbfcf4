// SPDX-License-Identifier: Apache-2.0
// Order of bars. Meanings of elements: MusicXML 4.0, element reference for barline, repeat, ending
// and sound. That repeats are not taken after a jump is common practice, no source.
#include <filesystem>
#include <ostream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"
#include "music/musicxml_scores.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::ElementsAre;
using ::testing::ElementsAreArray;
using ::testing::SizeIs;

const std::string forward = "<barline location=\"left\"><repeat direction=\"forward\"/></barline>";
const std::string backward =
    "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";

std::string times(int count) {
  return "<barline location=\"right\"><repeat direction=\"backward\" times=\"" +
         std::to_string(count) + "\"/></barline>";
}

std::string ending(const std::string& numbers, const std::string& type, bool repeats = false) {
  return "<barline location=\"" + std::string(type == "start" ? "left" : "right") +
         "\"><ending number=\"" + numbers + "\" type=\"" + type + "\"/>" +
         (repeats ? "<repeat direction=\"backward\"/>" : "") + "</barline>";
}

std::string sound(const std::string& attributes) {
  return "<sound " + attributes + "/>";
}

std::string said(const std::string& text) {
  return "<direction><direction-type><words>" + text + "</words></direction-type></direction>";
}

std::string sign(const std::string& name) {
  return "<direction><direction-type><" + name + "/></direction-type></direction>";
}

struct Marks {
  std::string before;
  std::string after;
};

// The order in which bars 1, 2, 3... with these marks before and after their only note are played.
std::vector<int> order(const std::vector<Marks>& bars) {
  std::string measures;
  for (std::size_t i = 0; i < bars.size(); ++i)
    measures += "<measure number=\"" + std::to_string(i + 1) + "\">" + bars[i].before +
                note('C', 4) + bars[i].after + "</measure>";
  return bar_numbers(read_part(measures));
}

TEST(MusicXmlRepeats, ARepeatGoesBackToItsBeginning) {
  EXPECT_THAT(order({{}, {forward}, {"", backward}, {}}), ElementsAre(1, 2, 3, 2, 3, 4));
  EXPECT_THAT(order({{}, {"", backward}, {}}), ElementsAre(1, 2, 1, 2, 3));
  EXPECT_THAT(order({{forward, backward}, {}}), ElementsAre(1, 1, 2));
}

TEST(MusicXmlRepeats, ASecondRepeatWithoutABeginningGoesBackToTheFirst) {
  EXPECT_THAT(order({{"", backward}, {}, {"", backward}}), ElementsAre(1, 1, 2, 3, 2, 3));
}

TEST(MusicXmlRepeats, ARepeatIsPlayedAsOftenAsItSays) {
  EXPECT_THAT(order({{"", times(3)}, {}}), ElementsAre(1, 1, 1, 2));
  EXPECT_THAT(order({{"", times(1)}, {}}), ElementsAre(1, 2));
}

TEST(MusicXmlRepeats, AForwardRepeatWithoutEndIsPlayedOnce) {
  EXPECT_THAT(order({{}, {forward}}), ElementsAre(1, 2));
}

TEST(MusicXmlRepeats, EachPassPlaysItsEnding) {
  const std::string stop1 = ending("1", "stop", true);
  EXPECT_THAT(order({{},
                     {ending("1", "start"), stop1},
                     {ending("2", "start"), ending("2", "discontinue")},
                     {}}),
              ElementsAre(1, 2, 1, 3, 4));
  EXPECT_THAT(order({{},
                     {ending("1,2", "start"), ending("1,2", "stop", true)},
                     {ending("3", "start"), ending("3", "stop")}}),
              ElementsAre(1, 2, 1, 2, 1, 3));
  EXPECT_THAT(order({{},
                     {ending("1", "start")},
                     {"", stop1},
                     {ending("2", "start"), ending("2", "stop", true)},
                     {}}),
              ElementsAre(1, 2, 3, 1, 4, 5));
}

TEST(MusicXmlRepeats, ALoneFirstEndingIsLeftOutTheSecondTime) {
  EXPECT_THAT(order({{}, {ending("1", "start"), ending("1", "stop", true)}, {}}),
              ElementsAre(1, 2, 1, 3));
}

TEST(MusicXmlRepeats, NeighbouringEndingsImplyTheRepeatBetweenThem) {
  EXPECT_THAT(order({{},
                     {ending("1", "start"), ending("1", "stop")},
                     {ending("2", "start"), ending("2", "stop")}}),
              ElementsAre(1, 2, 1, 3));
}

TEST(MusicXmlRepeats, EndingsWithoutARepeatSignLeaveNothingOut) {
  EXPECT_THAT(order({{}, {ending("1", "start"), ending("1", "stop")}, {}}), ElementsAre(1, 2, 3));
  EXPECT_THAT(order({{},
                     {ending("1", "start"), ending("1", "stop", true)},
                     {ending("4", "start"), ending("4", "stop")}}),
              ElementsAre(1, 2, 1, 3));
}

TEST(MusicXmlRepeats, DaCapoAlFineStopsAtFine) {
  EXPECT_THAT(order({{}, {"", sound("fine=\"yes\"")}, {"", sound("dacapo=\"yes\"")}}),
              ElementsAre(1, 2, 3, 1, 2));
  EXPECT_THAT(order({{}, {"", said("Fine")}, {"", said("D.C. al Fine")}}),
              ElementsAre(1, 2, 3, 1, 2));
}

TEST(MusicXmlRepeats, DalSegnoAlCodaJumpsTwice) {
  EXPECT_THAT(order({{},
                     {sound("segno=\"s\"")},
                     {"", sound("tocoda=\"c\"")},
                     {"", sound("dalsegno=\"s\"")},
                     {sound("coda=\"c\"")}}),
              ElementsAre(1, 2, 3, 4, 2, 3, 5));
  EXPECT_THAT(
      order({{}, {sign("segno")}, {"", sign("coda")}, {"", said("D.S. al Coda")}, {sign("coda")}}),
      ElementsAre(1, 2, 3, 4, 2, 3, 5));
  EXPECT_THAT(order({{}, {"", said("To Coda")}, {"", said("Da Capo")}, {sign("coda")}}),
              ElementsAre(1, 2, 3, 1, 2, 4));
}

TEST(MusicXmlRepeats, AToCodaBeforeTheFirstNoteLeavesBeforeItsBar) {
  EXPECT_THAT(
      order({{}, {sound("tocoda=\"c\"")}, {"", sound("dacapo=\"yes\"")}, {sound("coda=\"c\"")}}),
      ElementsAre(1, 2, 3, 1, 4));
}

TEST(MusicXmlRepeats, RepeatsAreNotTakenAfterAJumpAndTheLastEndingIsPlayed) {
  EXPECT_THAT(order({{"", backward}, {}, {"", sound("dacapo=\"yes\"")}}),
              ElementsAre(1, 1, 2, 3, 1, 2, 3));
  EXPECT_THAT(order({{},
                     {ending("1", "start"), ending("1", "stop", true)},
                     {ending("2", "start"), ending("2", "discontinue")},
                     {"", sound("dacapo=\"yes\"")}}),
              ElementsAre(1, 2, 1, 3, 4, 1, 3, 4));
}

TEST(MusicXmlRepeats, WordsAreNotHeardWhereSoundsSpeak) {
  EXPECT_THAT(order({{"", said("D.C.")}, {"", sound("dacapo=\"yes\"")}}), ElementsAre(1, 2, 1, 2));
}

TEST(MusicXmlRepeats, AJumpWithoutATargetIsLeftOutWithAFinding) {
  const Tune tune = read_bar(note('C', 4) + "<sound dalsegno=\"x\"/>");
  EXPECT_THAT(tune.bars, SizeIs(1));
  EXPECT_THAT(tune.findings, SizeIs(1));
}

TEST(MusicXmlRepeats, MoreBarsThanAreAllowedAreAnError) {
  std::string measures;
  for (int i = 0; i < 150; ++i) measures += "<measure>" + note('C', 1) + "</measure>";
  measures += "<measure>" + note('C', 1) + times(1000) + "</measure>";
  EXPECT_THROW(read_part(measures), Error);
}

// Unrolled by hand from the files of Debian's musescore3 source package (mtest/musicxml/io and
// test/lilyXml), because no two independent readers agree on them.
struct RealFile {
  const char* path;
  std::vector<int> order;

  friend std::ostream& operator<<(std::ostream& out, const RealFile& file) {
    return out << file.path;
  }
};

class MusicXmlRealRepeats : public ::testing::TestWithParam<RealFile> {};

TEST_P(MusicXmlRealRepeats, BarsComeInTheOrderOfAPlayer) {
  const std::string path =
      std::string(COMBWRIGHT_CORPUS_DIR) + "/musicxml/" + GetParam().path + ".xml";
  if (!std::filesystem::exists(path)) GTEST_SKIP() << "run tests/corpus/musicxml.sh";
  EXPECT_THAT(bar_numbers(read_musicxml(read_file(path), path)),
              ElementsAreArray(GetParam().order));
}

INSTANTIATE_TEST_SUITE_P(
    Files, MusicXmlRealRepeats,
    ::testing::Values(RealFile{"io/testDCalCoda", {1, 2, 3, 4, 5, 6, 1, 2, 5, 6}},
                      RealFile{"io/testDCalFine", {1, 2, 3, 1, 2}},
                      RealFile{"io/testDalSegno", {1, 2, 3, 2, 3}},
                      // Bar 7 has no sign to go back to; bar 4 follows the first group of endings.
                      RealFile{"io/testVolta1", {1, 2, 1, 3, 4, 5, 6, 7, 4, 5, 8, 9, 10}},
                      // Four times and three times.
                      RealFile{"io/testRepeatCounts", {1, 2, 1, 2, 1, 2, 1, 2, 3, 4, 3, 4, 3, 4}},
                      RealFile{"io/testBarStyles", {1, 2, 3, 2, 3, 4, 5, 4, 5, 6, 7}},
                      RealFile{"lilyxml/09b-RepeatWithAlternatives-Finale", {1, 2, 1, 3, 4}},
                      // Bars 2 and 3 five times; the next repeat, three times, begins after them.
                      RealFile{
                          "lilyxml/09d-RepeatMultipleTimes-Finale",
                          {1, 2, 3, 2, 3, 2, 3, 2, 3, 2, 3, 4, 5, 6, 7, 4, 5, 6, 7, 4, 5, 6, 7, 8}},
                      // Endings "1, 2, 3" and "2" over bars 2 and 3 contradict each other and have
                      // no repeat sign,
                      // so they mean nothing; that of bar 4 goes back to the beginning.
                      RealFile{"lilyxml/09g-Endings-Finale", {1, 2, 3, 4, 1, 2, 3, 4, 5}},
                      // Endings 1, 2 (bars 3 to 5), 3; then endings 1 and 5.
                      RealFile{"lilyxml/09e-Alternatives-Finale",
                               {1, 2, 1, 3, 4, 5, 1, 6, 7, 8, 9, 10, 7, 8, 9, 11, 12}},
                      RealFile{"lilyxml/09h-RepeatsNoEndBar-Finale", {1, 2}}));

}  // namespace
}  // namespace combwright::music
