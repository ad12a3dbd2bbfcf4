// SPDX-License-Identifier: Apache-2.0
// SMF 1.0 stands for: Standard MIDI Files 1.0, RP-001, in The Complete MIDI 1.0 Detailed
// Specification, MIDI Manufacturers Association.
#include "music/midi_reader.h"

#include <cmath>
#include <utility>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/midi_files.h"
#include "music/midi_invariants.h"

namespace combwright::music {
namespace {

using namespace by_hand;
using testing::ElementsAre;
using testing::IsEmpty;

// Notes as (onset in quarters, duration in quarters, pitch).
std::vector<std::tuple<double, double, int>> notes_of(const Tune& tune) {
  std::vector<std::tuple<double, double, int>> notes;
  for (const Note& note : tune.notes)
    notes.emplace_back(note.onset_quarter, note.duration_quarter, note.midi);
  return notes;
}

using Notes = std::vector<std::tuple<double, double, int>>;

TEST(MidiReader, ReadsTheStandardsTableOfVariableLengthQuantities) {
  // SMF 1.0, "Some examples of numbers represented as variable-length quantities".
  const std::vector<std::pair<std::uint32_t, Bytes>> table = {
      {0x00, {0x00}},
      {0x40, {0x40}},
      {0x7F, {0x7F}},
      {0x80, {0x81, 0x00}},
      {0x2000, {0xC0, 0x00}},
      {0x3FFF, {0xFF, 0x7F}},
      {0x4000, {0x81, 0x80, 0x00}},
      {0x100000, {0xC0, 0x80, 0x00}},
      {0x1FFFFF, {0xFF, 0xFF, 0x7F}},
      {0x200000, {0x81, 0x80, 0x80, 0x00}},
      {0x8000000, {0xC0, 0x80, 0x80, 0x00}},
      {0x0FFFFFFF, {0xFF, 0xFF, 0xFF, 0x7F}},
  };
  for (const auto& [ticks, bytes] : table) {
    const Tune tune =
        read(header(0, 1, 0x4000) + track(bytes + Bytes{0x90, 60, 64, 0x10, 0x80, 60, 0}));
    ASSERT_EQ(tune.notes.size(), 1);
    EXPECT_EQ(tune.notes[0].onset_quarter * 0x4000, ticks);
  }
}

TEST(MidiReader, TakesNoTempoAs120AMinute) {
  // SMF 1.0: "the tempo 120 beats per minute": one tick of 480 is 1041.666667 us.
  const Tune tune = read(header(0, 1, 480) + track({0x01, 0x90, 60, 64, 0x87, 0x40, 0x80, 60, 0}));
  EXPECT_NEAR(tune.notes[0].onset_s, 1041.666667e-6, 1e-12);
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 1.0);  // 960 ticks
  EXPECT_EQ(tune.tempos.size(), 1);
  EXPECT_EQ(tune.tempos[0].quarters_per_minute, 120.0);
  ASSERT_EQ(tune.findings.size(), 1);
  EXPECT_EQ(tune.findings[0].what, "there is no tempo; 120/min was taken");
}

TEST(MidiReader, ReadsTheSlowestTempoThatTwentyFourBitsHold) {
  // 60e6 / 0xFFFFFF = 3.576279 a minute (SMF 1.0: FF 51 03 tttttt in microseconds a quarter).
  const Tune tune = read_track(tempo(0xFFFFFF) + c4);
  EXPECT_NEAR(tune.tempos[0].quarters_per_minute, 3.576279, 1e-6);
  EXPECT_NEAR(tune.notes[0].duration_s, 16.777215, 1e-12);
}

TEST(MidiReader, FollowsTheTempoFromTickToTick) {
  // 96 ticks at 60/min, then 120/min: the second note starts after 1 s and lasts half a second; the
  // first one lasts across the change.
  const Tune tune = read_track(tempo(1'000'000) + Bytes{0x00, 0x90, 60, 64} +
                               Bytes{0x60, 0xFF, 0x51, 0x03, 0x07, 0xA1, 0x20} +
                               Bytes{0x00, 0x90, 62, 64, 0x60, 60, 0, 0x00, 62, 0});
  ASSERT_EQ(tune.notes.size(), 2);
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 1.5);
  EXPECT_DOUBLE_EQ(tune.notes[1].onset_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.notes[1].duration_s, 0.5);
  ASSERT_EQ(tune.tempos.size(), 2);
  EXPECT_DOUBLE_EQ(tune.tempos[1].start_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.tempos[1].start_quarter, 1.0);
}

TEST(MidiReader, HonoursATempoInAnyTrack) {
  const Tune tune = read(header(1, 2, 96) + track(c4) + track(tempo(250'000)));
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 0.25);
}

TEST(MidiReader, LeavesOutATempoOfNoMeaning) {
  const Tune tune = read_track(tempo(0) + Bytes{0x00, 0xFF, 0x51, 0x01, 0x07} + c4);
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 0.5);
  EXPECT_THAT(findings_of(tune), ElementsAre("warning: 2 tempos of no meaning were left out"));
}

TEST(MidiReader, TakesATickOfSmpteDivisionAsAPartOfASecondWhateverTheTempo) {
  // SMF 1.0: "millisecond-based tracks by specifying 25 frames/sec and a resolution of 40 units per
  // frame", E7 28. -29 stands for 30 drop-frame, 30000/1001 frames a second (SMPTE ST 12).
  const std::vector<std::pair<int, double>> tick_s = {{0xE728, 1e-3},
                                                      {0xE250, 1.0 / 2400.0},
                                                      {0xE850, 1.0 / 1920.0},
                                                      {0xE350, 1001.0 / 30'000.0 / 80.0}};
  for (const auto& [division, second] : tick_s) {
    const Tune tune = read(header(0, 1, division) + track(tempo(123'456) + c4 + c4));
    ASSERT_EQ(tune.notes.size(), 2);
    EXPECT_NEAR(tune.notes[0].duration_s, 96 * second, 1e-15);
    EXPECT_NEAR(tune.notes[1].onset_s, 96 * second, 1e-15);
    EXPECT_NEAR(tune.notes[1].onset_quarter, 2 * 96 * second, 1e-12);
    EXPECT_THAT(tune.findings, IsEmpty());
  }
}

TEST(MidiReader, KeepsRunningStatusEvenOverMetaAndSystemExclusiveEvents) {
  const Tune tune = read_track({0x00, 0x90, 60,   64,   0x60, 60,   0,           //
                                0x00, 0xFF, 0x01, 0x01, 'x',  0x00, 62,   64,    //
                                0x60, 62,   0,    0x00, 0xF0, 0x02, 0x7E, 0xF7,  //
                                0x00, 64,   64,   0x60, 64,   0});
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}, {1, 1, 62}, {2, 1, 64}}));
  EXPECT_THAT(findings_of(tune), IsEmpty());
}

TEST(MidiReader, PassesOverEventsThatAreNoNotes) {
  const Tune tune = read_track(Bytes{0x00, 0xA0, 60, 1, 0x00, 0xB0, 64, 127, 0x00, 0xD0, 5} +
                               Bytes{0x00, 0xE0, 0, 64, 0x00, 0xF7, 0x02, 0xF3, 0x01} +
                               Bytes{0x00, 0xFF, 0x59, 0x02, 0x00, 0xFF} + c4);
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}}));
}

TEST(MidiReader, PassesOverUnknownChunksAndALongerHeader) {
  // SMF 1.0: "more parameters may be added to the MThd chunk in the future: it is important to read
  // and honor the length"; "your programs should expect alien chunks and treat them as if they
  // weren't there".
  const Bytes long_header = chunk("MThd", {0, 1, 0, 1, 0, 96, 'a', 'b'});
  const Tune tune = read(long_header + chunk("XFIH", {1, 2, 3}) + track(c4) + text("tail"));
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}}));
  EXPECT_THAT(findings_of(tune), IsEmpty());
}

TEST(MidiReader, ReadsAFileWrappedAsRiff) {
  const Bytes file = header(0, 1, 96) + track(c4);
  const Bytes size{static_cast<std::uint8_t>(file.size()), 0, 0, 0};
  const Bytes wrapped = text("RIFF") + size + text("RMIDLIST") + Bytes{3, 0, 0, 0, 1, 2, 3, 0} +
                        text("data") + size + file;
  EXPECT_EQ(notes_of(read(wrapped)), (Notes{{0, 1, 60}}));
}

TEST(MidiReader, LeavesOutPercussionAndCountsIt) {
  // Channel 10 is percussion (General MIDI 1, RP-003).
  const Tune tune = read_track(Bytes{0x00, 0x99, 36, 100, 0x00, 38, 100, 0x10, 0x89, 36, 0} + c4);
  EXPECT_EQ(notes_of(tune).size(), 1);
  EXPECT_THAT(findings_of(tune), ElementsAre("note: 2 percussion notes were left out"));
  EXPECT_EQ(tune.percussion_notes, 2U);
}

TEST(MidiReader, EndsTheOldestOfTwoNotesThatSoundOnOneKey) {
  const Tune tune = read_track({0x00, 0x90, 60, 64, 0x30, 60, 64, 0x30, 60, 0, 0x60, 60, 0});
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}, {0.5, 1.5, 60}}));
}

TEST(MidiReader, KeepsKeysOfDifferentTracksAndChannelsApart) {
  const Tune tune = read(header(1, 2, 96) +
                         track({0x00, 0x90, 60, 64, 0x00, 0x91, 60, 64,  //
                                0x60, 0x91, 60, 0, 0x60, 0x90, 60, 0}) +
                         track({0x30, 0x90, 60, 64, 0x00, 0x80, 60, 0}));
  EXPECT_EQ(notes_of(tune), (Notes{{0, 2, 60}, {0, 1, 60}, {0.5, 0, 60}}));
}

TEST(MidiReader, EndsANoteThatIsNeverReleasedWithItsTrack) {
  const Tune tune = read_track(Bytes{0x00, 0x90, 60, 64} + Bytes{0x60, 0xFF, 0x01, 0x00});
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}}));
  EXPECT_THAT(findings_of(tune),
              ElementsAre("warning: 1 note is never released; it was ended with its track"));
}

TEST(MidiReader, KeepsANoteThatEndsAtItsOwnOnset) {
  const Tune tune = read_track({0x00, 0x90, 60, 64, 0x00, 0x80, 60, 0});
  EXPECT_EQ(notes_of(tune), (Notes{{0, 0, 60}}));
  EXPECT_THAT(findings_of(tune), ElementsAre("note: 1 note ends at its own onset; it was kept"));
}

TEST(MidiReader, TakesAReleaseWithoutANoteForNothing) {
  EXPECT_EQ(notes_of(read_track(Bytes{0x00, 0x80, 60, 0} + c4)), (Notes{{0, 1, 60}}));
}

TEST(MidiReader, TakesVelocityAsLoudness) {
  const Tune tune = read_track({0x00, 0x90, 60, 127, 0x00, 62, 1, 0x60, 60, 0, 0x00, 62, 0});
  EXPECT_EQ(tune.notes[0].loudness, 1.0);
  EXPECT_EQ(tune.notes[1].loudness, 1.0 / 127.0);
}

TEST(MidiReader, SortsByOnsetThenPitchThenPart) {
  const Tune tune =
      read(header(1, 2, 96) + track({0x00, 0x91, 67, 64,   0x00, 0x90, 67,   64,   0x00, 60, 64,  //
                                     0x60, 67,   0,  0x00, 60,   0,    0x00, 0x81, 67,   0}) +
           track({0x00, 0x90, 62, 64, 0x60, 62, 0, 0x00, 50, 64, 0x60, 50, 0}));
  std::vector<std::pair<int, int>> order;
  for (const Note& note : tune.notes) order.emplace_back(note.midi, note.part);
  EXPECT_THAT(order, ElementsAre(std::pair(60, 0), std::pair(62, 2), std::pair(67, 0),
                                 std::pair(67, 1), std::pair(50, 2)));
  EXPECT_EQ(broken_promise(tune), "");
}

TEST(MidiReader, MakesAPartOfEachTrackAndChannelWithNotes) {
  const Tune tune = read(header(1, 4, 96) + track(name(text("Andante")) + Bytes{0x00, 0xC1, 11}) +
                         track(name(text("Left")) + Bytes{0x00, 0xC0, 10} + c4) +
                         track({0x00, 0x91, 60, 64, 0x60, 60, 0, 0x00, 0x92, 60, 64, 0x60, 60, 0}) +
                         track(name(text("no notes"))));
  EXPECT_EQ(tune.title, "Andante");  // SMF 1.0: in the first track, the name of the sequence
  ASSERT_EQ(tune.parts.size(), 3);
  EXPECT_EQ(tune.parts[0].name, "Left");
  EXPECT_EQ(tune.parts[0].program, 10);
  EXPECT_EQ(tune.parts[1].name, "track 3, channel 2");
  EXPECT_EQ(tune.parts[1].program, 11);  // set in the first track
  EXPECT_EQ(tune.parts[2].name, "track 3, channel 3");
  EXPECT_EQ(tune.parts[2].program, 0);
}

TEST(MidiReader, NamesThePartsOfAFormat0FileByChannel) {
  const Tune tune = read_track(name(text("Air")) + c4);
  EXPECT_EQ(tune.title, "Air");
  ASSERT_EQ(tune.parts.size(), 1);
  EXPECT_EQ(tune.parts[0].name, "channel 1");
}

TEST(MidiReader, GivesNamesInUtf8) {
  const auto title = [](const Bytes& bytes) { return read_track(name(bytes) + c4).title; };
  EXPECT_EQ(title(text("F\xC3\xBCr")), "F\xC3\xBCr");
  EXPECT_EQ(title(text("F\xFCr")), "F\xC3\xBCr");          // Latin-1
  EXPECT_EQ(title(text("\xC0\x80")), "\xC3\x80\xC2\x80");  // overlong (RFC 3629), so Latin-1
  EXPECT_EQ(title(text(" a\nb\x01 ")), "a b");
  EXPECT_EQ(title(Bytes(120, 0xFC)).size(), 200);
}

TEST(MidiReader, PlaysTheTracksOfAFormat2FileOneAfterTheOther) {
  const Tune tune = read(header(2, 2, 96) + track(tempo(1'000'000) + meter(3, 2) + c4) + track(c4));
  EXPECT_EQ(notes_of(tune), (Notes{{0, 1, 60}, {1, 1, 60}}));
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.notes[1].duration_s, 0.5);  // the first track's tempo ends with it
  ASSERT_EQ(tune.bars.size(), 2);
  EXPECT_EQ(tune.bars[0].beats, 3);
  EXPECT_EQ(tune.bars[0].length_quarter, 1.0);
  EXPECT_TRUE(tune.bars[0].section_end);
  EXPECT_EQ(tune.bars[1].beats, 4);
}

TEST(MidiReader, SaysWhenThereIsNoPitchedNote) {
  const Tune tune = read_track({});
  EXPECT_THAT(tune.bars, IsEmpty());
  EXPECT_EQ(tune.length_s, 0.0);
  EXPECT_THAT(findings_of(tune), ElementsAre("warning: there is no pitched note"));
}

}  // namespace
}  // namespace combwright::music
