// SPDX-License-Identifier: Apache-2.0
// Meanings of elements: MusicXML 4.0, W3C Community Group Final Report, element reference.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "music/musicxml_scores.h"

namespace combwright::music {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace): the score builders
using ::testing::DoubleEq;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

TEST(MusicXmlNotes, APitchIsStepOctaveAndAlteration) {
  // octave element: "octave 4 starts with middle C"; alter element: semitones.
  const Tune tune = read_bar("<note>" + pitch('C', 4) + "<duration>4</duration></note><note>" +
                             pitch('B', 3) + "<duration>4</duration></note><note>" +
                             pitch('F', 5, "1") + "<duration>4</duration></note><note>" +
                             pitch('E', 4, "-2") + "<duration>4</duration></note>");
  EXPECT_THAT(pitches(tune), ElementsAre(60, 59, 78, 62));
}

TEST(MusicXmlNotes, AQuarterToneIsRoundedUpAndToldOnce) {
  const Tune tune =
      read_bar("<note>" + pitch('C', 4, "0.5") + "<duration>4</duration></note><note>" +
               pitch('D', 4, "-0.5") + "<duration>4</duration></note>");
  EXPECT_THAT(pitches(tune), ElementsAre(61, 62));
  ASSERT_THAT(tune.findings, SizeIs(1));
  EXPECT_THAT(tune.findings[0].what, HasSubstr("(2 times)"));
  EXPECT_THAT(tune.findings[0].where, HasSubstr("tune.xml:1:"));
}

TEST(MusicXmlNotes, AChordNoteSharesTheMomentOfTheNoteBeforeIt) {
  const Tune tune = read_bar(note('C', 4) + note('E', 4, "", "<chord/>") +
                             note('G', 8, "", "<chord/>") + note('D', 4));
  EXPECT_THAT(pitches(tune), ElementsAre(60, 64, 67, 62));
  EXPECT_THAT(onsets(tune), ElementsAre(0, 0, 0, 1));
}

TEST(MusicXmlNotes, BackupAndForwardMoveBetweenVoices) {
  const Tune tune = read_bar(note('C', 16, "<voice>1</voice>") +
                             "<backup><duration>16</duration></backup>"
                             "<forward><duration>6</duration></forward>" +
                             note('E', 2, "<voice>2</voice>"));
  EXPECT_THAT(onsets(tune), ElementsAre(0, 1.5));
  EXPECT_EQ(tune.notes[0].voice, 1);
  EXPECT_EQ(tune.notes[1].voice, 2);
  EXPECT_THAT(bar_lengths(tune), ElementsAre(4));
}

TEST(MusicXmlNotes, ABackupBeforeTheBarLineStopsThere) {
  const Tune tune =
      read_bar(note('C', 4) + "<backup><duration>40</duration></backup>" + note('E', 4));
  EXPECT_THAT(onsets(tune), ElementsAre(0, 0));
  EXPECT_THAT(tune.findings, SizeIs(1));
}

TEST(MusicXmlNotes, SumsOfTripletsReachTheBeatExactly) {
  // Three thirds of a beat in one voice meet the beat of the other on the same double.
  const Tune tune = read_part(
      "<measure number=\"1\"><attributes><divisions>3</divisions></attributes>" + note('C', 1) +
      "<attributes><divisions>9</divisions></attributes>" + note('C', 3) + note('C', 3) +
      note('D', 9) + "<backup><duration>9</duration></backup>" + note('F', 9) + "</measure>");
  ASSERT_THAT(tune.notes, SizeIs(5));
  EXPECT_EQ(tune.notes[3].onset_quarter, 1.0);
  EXPECT_EQ(tune.notes[4].onset_quarter, 1.0);
}

TEST(MusicXmlNotes, TransposingPartsSoundWhereTheySound) {
  // transpose element: chromatic "represents the number of semitones needed to get from written to
  // sounding pitch", octave-change adds octaves. A clarinet in B flat sounds a tone lower.
  const auto sounding = [](const std::string& transpose) {
    return read_bar("<attributes>" + transpose + "</attributes>" + note('C', 4)).notes[0].midi;
  };
  EXPECT_EQ(sounding("<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"),
            58);
  EXPECT_EQ(sounding("<transpose><chromatic>0</chromatic><octave-change>-1</octave-change>"
                     "</transpose>"),
            48);
  EXPECT_EQ(sounding("<transpose number=\"2\"><chromatic>3</chromatic></transpose>"), 60);
}

TEST(MusicXmlNotes, ATransposeOfOneStaffHoldsThereOnly) {
  const Tune tune = read_bar(
      "<attributes><staves>2</staves><transpose number=\"2\"><chromatic>-2</chromatic></transpose>"
      "</attributes>" +
      note('C', 4, "<staff>1</staff>") + note('C', 4, "<staff>2</staff>"));
  EXPECT_THAT(pitches(tune), ElementsAre(60, 58));
}

TEST(MusicXmlNotes, RestsAndCueNotesAreSilentAndUnprintedNotesSound) {
  const Tune tune = read_bar(rest(4) + note('E', 4, "", "<cue/>") + "<note print-object=\"no\">" +
                             pitch('C', 4) + "<duration>4</duration></note>");
  EXPECT_THAT(pitches(tune), ElementsAre(60));
  EXPECT_THAT(onsets(tune), ElementsAre(2));
}

TEST(MusicXmlNotes, PercussionIsLeftOutWithAFinding) {
  const std::string unpitched = "<note><unpitched/><duration>4</duration></note>";
  const Tune tune = read_text(
      "<score-partwise><part-list><score-part id=\"P1\"><part-name>Kit</part-name>"
      "<midi-instrument id=\"I1\"><midi-channel>10</midi-channel></midi-instrument>"
      "<midi-instrument id=\"I2\"><midi-channel>1</midi-channel></midi-instrument>"
      "</score-part></part-list><part id=\"P1\"><measure number=\"1\">" +
      unpitched + note('C', 1) + note('D', 1, "<instrument id=\"I1\"/>") +
      note('E', 1, "<instrument id=\"I2\"/>") + "</measure></part></score-partwise>");
  EXPECT_THAT(pitches(tune), ElementsAre(64));
  EXPECT_THAT(onsets(tune), ElementsAre(6));
  ASSERT_THAT(tune.findings, SizeIs(1));
  EXPECT_THAT(tune.findings[0].what, HasSubstr("percussion was left out (3 times)"));
  EXPECT_EQ(tune.percussion_notes, 3U);
}

TEST(MusicXmlNotes, TiedNotesAreStruckOnceAcrossBars) {
  const Tune tune =
      read_part(bar(note('C', 16, "<tie type=\"start\"/>")) + "<measure number=\"2\">" +
                note('C', 8, "<tie type=\"stop\"/><tie type=\"start\"/>") +
                note('C', 4, "<tie type=\"stop\"/>") + note('C', 4) + "</measure>");
  EXPECT_THAT(onsets(tune), ElementsAre(0, 7));
  EXPECT_THAT(durations(tune), ElementsAre(7, 1));
}

TEST(MusicXmlNotes, ATieMayBeInTheNotationsOnlyOrLackItsEnd) {
  const std::string drawn = "<notations><tied type=\"start\"/></notations>";
  const std::string ended = "<notations><tied type=\"stop\"/></notations>";
  EXPECT_THAT(durations(read_bar(note('C', 4, drawn) + note('C', 4, ended))), ElementsAre(2));
  EXPECT_THAT(durations(read_bar(note('C', 4, drawn) + note('C', 4))), ElementsAre(2));
  EXPECT_THAT(durations(read_bar(note('C', 4, drawn) + note('D', 4))), ElementsAre(1, 1));
  EXPECT_THAT(durations(read_bar(note('C', 4, drawn) + rest(4) + note('C', 4, ended))),
              ElementsAre(1, 1));
}

TEST(MusicXmlNotes, ATieIntoASecondEndingHoldsAndOneOverARepeatDoesNot) {
  // Bar 1 is tied into both endings; bar 1 itself is struck anew when it comes again.
  const Tune tune = read_part(
      bar(note('C', 16, "<tie type=\"start\"/>")) +
      "<measure number=\"2\"><barline location=\"left\"><ending number=\"1\" type=\"start\"/>"
      "</barline>" +
      note('C', 16, "<tie type=\"stop\"/>") +
      "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/>"
      "<repeat direction=\"backward\"/></barline></measure>"
      "<measure number=\"3\"><barline location=\"left\"><ending number=\"2\" type=\"start\"/>"
      "</barline>" +
      note('C', 16, "<tie type=\"stop\"/>") +
      "<barline location=\"right\"><ending number=\"2\" type=\"discontinue\"/></barline>"
      "</measure>");
  EXPECT_THAT(onsets(tune), ElementsAre(0, 8));
  EXPECT_THAT(durations(tune), ElementsAre(8, 8));
}

TEST(MusicXmlNotes, DynamicsAndAccentsSetLoudness) {
  // dynamics attribute: "percentage of the default forte value" of velocity 90; marks as in the
  // header (common practice, no source).
  const Tune tune = read_bar(
      note('C', 4) +
      "<direction><direction-type><dynamics><f/></dynamics></direction-type></direction>" +
      note('D', 4, "<notations><articulations><accent/></articulations></notations>") +
      "<sound dynamics=\"50\"/>" + note('E', 4) +
      "<direction><direction-type><dynamics><sfz/></dynamics></direction-type></direction>" +
      "<note dynamics=\"100\">" + pitch('F', 4) + "<duration>4</duration></note>");
  ASSERT_THAT(tune.notes, SizeIs(4));
  EXPECT_DOUBLE_EQ(tune.notes[0].loudness, 80.0 / 127.0);
  EXPECT_DOUBLE_EQ(tune.notes[1].loudness, 96.0 / 127.0);
  EXPECT_TRUE(tune.notes[1].accent);
  EXPECT_DOUBLE_EQ(tune.notes[2].loudness, 45.0 / 127.0);
  EXPECT_FALSE(tune.notes[2].accent);
  EXPECT_DOUBLE_EQ(tune.notes[3].loudness, 90.0 / 127.0);
  EXPECT_TRUE(tune.notes[3].accent);
}

TEST(MusicXmlNotes, DynamicsOfALaterVoiceHoldByTimeNotByTheOrderInTheFile) {
  const Tune tune = read_bar(
      note('C', 8) +
      "<direction><direction-type><dynamics><pp/></dynamics></direction-type></direction>" +
      note('D', 8) + "<backup><duration>16</duration></backup>" + note('E', 8) + note('F', 8));
  ASSERT_THAT(pitches(tune), ElementsAre(60, 64, 62, 65));
  EXPECT_DOUBLE_EQ(tune.notes[1].loudness, 80.0 / 127.0);
  EXPECT_DOUBLE_EQ(tune.notes[3].loudness, 33.0 / 127.0);
}

TEST(MusicXmlNotes, AWedgeRunsStraightToTheNextMark) {
  const auto direction = [](const std::string& type) {
    return "<direction><direction-type>" + type + "</direction-type></direction>";
  };
  const Tune tune =
      read_bar(direction("<dynamics><p/></dynamics>") + direction("<wedge type=\"crescendo\"/>") +
               note('C', 4) + note('D', 4) + direction("<wedge type=\"stop\"/>") +
               direction("<dynamics><f/></dynamics>") + note('E', 4) +
               direction("<wedge type=\"diminuendo\"/>") + note('F', 2) + note('G', 2) +
               direction("<wedge type=\"stop\"/>"));
  const auto velocity = [&tune](std::size_t i) { return 127.0 * tune.notes[i].loudness; };
  EXPECT_NEAR(velocity(0), 49.0, 1e-9);
  EXPECT_NEAR(velocity(1), (49.0 + 96.0) / 2, 1e-9);
  EXPECT_NEAR(velocity(2), 96.0, 1e-9);
  EXPECT_NEAR(velocity(3), 96.0, 1e-9);
  EXPECT_NEAR(velocity(4), 96.0 - 8.0, 1e-9);
}

TEST(MusicXmlNotes, TitleComposerAndPartsAreRead) {
  const Tune tune = read_text(
      "<score-partwise><work><work-title> A\n  Waltz </work-title></work>"
      "<identification><creator type=\"composer\">N. N.</creator></identification>"
      "<part-list><score-part id=\"a\"><part-name>Flute</part-name><midi-instrument id=\"x\">"
      "<midi-program>74</midi-program></midi-instrument></score-part>"
      "<score-part id=\"b\"><part-name></part-name></score-part></part-list>"
      "<part id=\"b\"><measure number=\"1\">" +
      note('C', 1) + "</measure></part></score-partwise>");
  EXPECT_EQ(tune.title, "A Waltz");
  EXPECT_EQ(tune.composer, "N. N.");
  ASSERT_THAT(tune.parts, SizeIs(2));
  EXPECT_EQ(tune.parts[0].name, "Flute");
  EXPECT_EQ(tune.parts[0].program, 73);
  EXPECT_EQ(tune.parts[1].name, "b");
  EXPECT_EQ(tune.notes[0].part, 1);
}

TEST(MusicXmlNotes, ATitleMayStandInTheMovementOrACredit) {
  const auto title = [](const std::string& head) {
    std::string text = one_part(bar(note('C', 4)));
    return read_text(text.insert(text.find("<part-list>"), head)).title;
  };
  EXPECT_EQ(title("<movement-title>Air</movement-title>"), "Air");
  EXPECT_EQ(title("<credit><credit-words>Jig</credit-words></credit>"), "Jig");
  EXPECT_EQ(title("<credit><credit-words>1780</credit-words></credit><credit><credit-type>title"
                  "</credit-type><credit-words>Reel</credit-words></credit>"),
            "Reel");
  EXPECT_EQ(title(""), "");
}

TEST(MusicXmlNotes, TimewiseReadsAsPartwise) {
  const std::string list =
      "<part-list><score-part id=\"P1\"><part-name>A</part-name></score-part>"
      "<score-part id=\"P2\"><part-name>B</part-name></score-part></part-list>";
  const auto measure = [](const std::string& music) {
    return "<measure number=\"1\">" + music + "</measure>";
  };
  const auto part = [](const std::string& id, const std::string& music) {
    return "<part id=\"" + id + "\">" + music + "</part>";
  };
  const std::string a1 = note('C', 4);
  const std::string a2 = note('D', 4);
  const std::string b1 = note('E', 4);
  const std::string b2 = note('F', 4);
  const Tune partwise =
      read_text("<score-partwise>" + list + part("P1", measure(a1) + measure(a2)) +
                part("P2", measure(b1) + measure(b2)) + "</score-partwise>");
  const Tune timewise =
      read_text("<score-timewise>" + list + measure(part("P1", a1) + part("P2", b1)) +
                measure(part("P1", a2) + part("P2", b2)) + "</score-timewise>");
  EXPECT_THAT(pitches(partwise), ElementsAre(60, 64, 62, 65));
  EXPECT_EQ(pitches(timewise), pitches(partwise));
  EXPECT_EQ(onsets(timewise), onsets(partwise));
  EXPECT_EQ(bar_lengths(timewise), bar_lengths(partwise));
}

}  // namespace
}  // namespace combwright::music
