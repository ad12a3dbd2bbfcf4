// SPDX-License-Identifier: Apache-2.0
// Meanings of elements: MusicXML 4.0, W3C Community Group Final Report, element reference.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/musicxml_direction.h"
#include "music/musicxml_scores.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::DoubleNear;
using ::testing::ElementsAre;
using ::testing::SizeIs;

std::string measure(int number, const std::string& music, const std::string& marks = "") {
  return "<measure number=\"" + std::to_string(number) + "\" " + marks + ">" + music + "</measure>";
}

std::string metronome(const std::string& inside) {
  return "<direction><direction-type><metronome>" + inside +
         "</metronome></direction-type></direction>";
}

std::string words(const std::string& text) {
  return "<direction><direction-type><words>" + text + "</words></direction-type></direction>";
}

TEST(MusicXmlTime, MissingDivisionsAreOneAndLateOnesHoldFromTheStart) {
  EXPECT_THAT(onsets(read_part(measure(1, note('C', 1) + note('D', 1)))), ElementsAre(0, 1));
  EXPECT_THAT(onsets(read_part(measure(1, note('C', 4) + note('D', 4)) + bar(note('E', 4)))),
              ElementsAre(0, 1, 2));
}

TEST(MusicXmlTime, DivisionsMayChangeInsideAMeasure) {
  EXPECT_THAT(onsets(read_bar(note('C', 4) + "<attributes><divisions>100</divisions></attributes>" +
                              note('D', 50) + note('E', 50))),
              ElementsAre(0, 1, 1.5));
}

TEST(MusicXmlTime, TempoIs120UntilSaid) {
  // No default in MusicXML; 120 is that of Standard MIDI Files 1.0.
  const Tune tune =
      read_bar(note('C', 4) + note('D', 4) + "<sound tempo=\"60\"/>" + note('E', 4) + note('F', 4));
  ASSERT_THAT(tune.notes, SizeIs(4));
  EXPECT_DOUBLE_EQ(tune.notes[1].onset_s, 0.5);
  EXPECT_DOUBLE_EQ(tune.notes[2].onset_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.notes[3].onset_s, 2.0);
  EXPECT_DOUBLE_EQ(tune.notes[3].duration_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.length_s, 3.0);
  ASSERT_THAT(tune.tempos, SizeIs(2));
  EXPECT_DOUBLE_EQ(tune.tempos[1].start_quarter, 2.0);
  EXPECT_DOUBLE_EQ(tune.tempos[1].start_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.tempos[1].quarters_per_minute, 60.0);
}

TEST(MusicXmlTime, AMetronomeMarkCountsItsBeatUnit) {
  const auto tempo = [](const std::string& inside) {
    return read_bar(metronome(inside) + note('C', 4)).tempos[0].quarters_per_minute;
  };
  EXPECT_DOUBLE_EQ(tempo("<beat-unit>half</beat-unit><per-minute>50</per-minute>"), 100.0);
  EXPECT_DOUBLE_EQ(tempo("<beat-unit>quarter</beat-unit><beat-unit-dot/>"
                         "<per-minute>60</per-minute>"),
                   90.0);
  EXPECT_DOUBLE_EQ(tempo("<beat-unit>eighth</beat-unit><per-minute>c. 132-144</per-minute>"), 66.0);
  EXPECT_DOUBLE_EQ(tempo("<beat-unit>quarter</beat-unit><beat-unit>half</beat-unit>"), 120.0);
}

TEST(MusicXmlTime, ASoundTempoHasPrecedenceOverTheMarkItBelongsTo) {
  const Tune tune = read_bar(
      "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>80"
      "</per-minute></metronome></direction-type><sound tempo=\"72\"/></direction>" +
      note('C', 4));
  EXPECT_DOUBLE_EQ(tune.tempos[0].quarters_per_minute, 72.0);
}

TEST(MusicXmlTime, WordsCountOnlyWhereThereIsNoNumber) {
  // The middle of the ranges printed on metronomes: common practice, no source.
  EXPECT_DOUBLE_EQ(
      read_bar(words("Allegro ma non troppo") + note('C', 4)).tempos[0].quarters_per_minute, 144.0);
  EXPECT_DOUBLE_EQ(read_bar(words("Presto") + "<sound tempo=\"100\"/>" + note('C', 4))
                       .tempos[0]
                       .quarters_per_minute,
                   100.0);
  EXPECT_DOUBLE_EQ(read_bar(words("prestigious") + note('C', 4)).tempos[0].quarters_per_minute,
                   120.0);
  EXPECT_DOUBLE_EQ(*musicxml::words_tempo("Largo"), 50.0);
  EXPECT_FALSE(musicxml::words_tempo("dolce"));
}

TEST(MusicXmlTime, ATempoThatCannotBePlayedIsLeftOut) {
  for (const char* tempo : {"0", "-3", "nan", "inf", "1e9", "fast"}) {
    const Tune tune = read_bar("<sound tempo=\"" + std::string(tempo) + "\"/>" + note('C', 4));
    EXPECT_DOUBLE_EQ(tune.tempos[0].quarters_per_minute, 120.0) << tempo;
    EXPECT_THAT(tune.findings, SizeIs(1)) << tempo;
  }
}

TEST(MusicXmlTime, AfterAJumpTheTempoOfThePlaceHolds) {
  const Tune tune = read_part(
      bar(note('C', 16)) + measure(2, "<sound tempo=\"60\"/>" + note('D', 16) +
                                          "<barline><repeat direction=\"backward\"/></barline>"));
  ASSERT_THAT(tune.bars, SizeIs(4));
  EXPECT_DOUBLE_EQ(tune.bars[2].start_s, 6.0);
  EXPECT_DOUBLE_EQ(tune.bars[3].start_s, 8.0);
  EXPECT_DOUBLE_EQ(tune.length_s, 12.0);
}

TEST(MusicXmlTime, AnOffsetMovesASoundAndNotAnUnsoundedDirection) {
  EXPECT_DOUBLE_EQ(read_bar("<sound tempo=\"60\"><offset>8</offset></sound>" + note('C', 16))
                       .tempos[1]
                       .start_quarter,
                   2.0);
  EXPECT_DOUBLE_EQ(read_bar("<direction><direction-type><words>Largo</words></direction-type>"
                            "<offset>8</offset></direction>" +
                            note('C', 16))
                       .tempos[0]
                       .quarters_per_minute,
                   50.0);
}

TEST(MusicXmlTime, APickupBarIsShortAndOtherShortBarsAreFilledUp) {
  const std::string time =
      "<attributes><divisions>1</divisions><time><beats>3</beats><beat-type>4"
      "</beat-type></time></attributes>";
  const Tune tune = read_part(measure(0, time + note('C', 1), "implicit=\"yes\"") +
                              measure(1, note('D', 3)) + measure(2, note('E', 2)));
  EXPECT_THAT(bar_lengths(tune), ElementsAre(1, 3, 3));
  EXPECT_THAT(bar_numbers(tune), ElementsAre(0, 1, 2));
  EXPECT_DOUBLE_EQ(tune.bars[2].start_quarter, 4.0);
  EXPECT_EQ(tune.bars[1].beats, 3);
  EXPECT_EQ(tune.bars[1].beat_unit, 4);
}

TEST(MusicXmlTime, ABarSplitByARepeatOrAnUncountedBarKeepsItsHalves) {
  const std::string end = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
  EXPECT_THAT(bar_lengths(read_part(bar(note('C', 16)) + measure(2, note('D', 12) + end) +
                                    measure(3, note('E', 4)))),
              ElementsAre(4, 3, 4, 3, 1));
  EXPECT_THAT(bar_lengths(read_part(bar(note('C', 16)) + measure(2, note('D', 8)) +
                                    "<measure number=\"X1\" implicit=\"yes\">" + note('E', 8) +
                                    "</measure>")),
              ElementsAre(4, 2, 2));
}

TEST(MusicXmlTime, ABarIsAsLongAsItsLongestPart) {
  const Tune tune = read_text(
      "<score-partwise><part-list><score-part id=\"P1\"/><score-part id=\"P2\"/></part-list>"
      "<part id=\"P1\">" +
      bar(note('C', 8)) + measure(2, note('C', 4)) + "</part><part id=\"P2\">" +
      bar(note('E', 20)) + measure(2, note('E', 4)) + "</part></score-partwise>");
  EXPECT_THAT(bar_lengths(tune), ElementsAre(5, 4));
  EXPECT_THAT(onsets(tune), ElementsAre(0, 0, 5, 5));
}

TEST(MusicXmlTime, AFullMeasureRestEndsWithItsMeasure) {
  const Tune tune = read_part(
      "<measure number=\"1\"><attributes><divisions>4</divisions><time><beats>3</beats><beat-type>4"
      "</beat-type></time></attributes><note><rest measure=\"yes\"/><duration>16</duration></note>"
      "</measure>" +
      measure(2, note('C', 12)));
  EXPECT_THAT(bar_lengths(tune), ElementsAre(3, 3));
}

TEST(MusicXmlTime, CompositeMetersAddUp) {
  // beats element: "3+2" is allowed; time element: several pairs of beats and beat-type.
  const auto first = [](const std::string& time) {
    return read_part("<measure number=\"1\"/>" +
                     measure(2, "<attributes><time>" + time + "</time></attributes>"))
        .bars[1];
  };
  const Bar eighths = first("<beats>3+2</beats><beat-type>8</beat-type>");
  EXPECT_DOUBLE_EQ(eighths.length_quarter, 2.5);
  EXPECT_EQ(eighths.beats, 5);
  const Bar mixed = first(
      "<beats>2</beats><beat-type>4</beat-type><beats>3</beats>"
      "<beat-type>8</beat-type>");
  EXPECT_DOUBLE_EQ(mixed.length_quarter, 3.5);
  EXPECT_EQ(mixed.beats, 7);
  EXPECT_EQ(mixed.beat_unit, 8);
}

TEST(MusicXmlTime, AnUnreadableTimeSignatureIsLeftOut) {
  const Tune tune = read_bar(
      "<attributes><time><beats>a</beats><beat-type>b</beat-type></time>"
      "</attributes>" +
      note('C', 4));
  EXPECT_EQ(tune.bars[0].beats, 4);
  EXPECT_THAT(tune.findings, SizeIs(1));
}

TEST(MusicXmlTime, SectionsEndAtDoubleBarsRepeatsAndFermatas) {
  const auto style = [](const std::string& location, const std::string& inside) {
    return "<barline location=\"" + location + "\">" + inside + "</barline>";
  };
  const std::string fermata = "<notations><fermata/></notations>";
  const Tune tune = read_part(
      bar(note('C', 16)) +
      measure(2, note('C', 16) + style("right", "<bar-style>light-light</bar-style>")) +
      measure(3, note('C', 16)) +
      measure(4, style("left", "<repeat direction=\"forward\"/>") + note('C', 16, fermata)) +
      measure(5, note('C', 4, fermata) + note('C', 12)) +
      measure(6, note('C', 16) + style("middle", "<bar-style>light-light</bar-style>")) +
      measure(7, note('C', 16) + style("right", "<bar-style>light-heavy</bar-style>")));
  std::vector<bool> ends;
  for (const Bar& played : tune.bars) ends.push_back(played.section_end);
  EXPECT_THAT(ends, ElementsAre(false, true, true, true, false, false, true));
}

TEST(MusicXmlTime, ARehearsalMarkOrANewKeyBeginsASection) {
  const auto key = [](const std::string& fifths) {
    return "<attributes><key><fifths>" + fifths + "</fifths></key></attributes>";
  };
  const std::string mark =
      "<direction><direction-type><rehearsal>B</rehearsal></direction-type></direction>";
  const Tune tune =
      read_part(bar(key("1") + note('C', 16)) + measure(2, key("1") + note('C', 16)) +
                measure(3, mark + note('C', 16)) + measure(4, key("-2") + note('C', 16)) +
                measure(5, note('C', 16)) + measure(6, note('C', 16)));
  std::vector<bool> ends;
  for (const Bar& played : tune.bars) ends.push_back(played.section_end);
  EXPECT_THAT(ends, ElementsAre(false, true, true, false, false, false));
}

}  // namespace
}  // namespace combwright::music
