// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/midi_files.h"
#include "music/midi_invariants.h"

namespace combwright::music {
namespace {

using namespace by_hand;
using testing::ElementsAre;

// C4 for so many quarters, fewer than 128, at 1 tick a quarter.
Bytes quarters(int count) {
  return {0x00, 0x90, 60, 64, static_cast<std::uint8_t>(count), 0x80, 60, 0};
}

Tune read_bars(const Bytes& events) {
  return read(header(0, 1, 1) + track(events));
}

std::vector<double> starts_of(const Tune& tune) {
  EXPECT_EQ(broken_promise(tune), "");
  std::vector<double> starts;
  for (const Bar& bar : tune.bars) starts.push_back(bar.start_quarter);
  return starts;
}

TEST(MidiBars, AreFourFourWhereTheFileSaysNothing) {
  // SMF 1.0: "time signature is assumed to be 4/4".
  const Tune tune = read_bars(quarters(9));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 4, 8));
  EXPECT_EQ(tune.bars[2].number, 3);
  EXPECT_EQ(tune.bars[2].start_s, 4.0);
  EXPECT_EQ(tune.bars[2].length_quarter, 4.0);
  EXPECT_EQ(tune.bars[0].beats, 4);
  EXPECT_EQ(tune.bars[0].beat_unit, 4);
  EXPECT_FALSE(tune.bars[1].section_end);
  EXPECT_TRUE(tune.bars[2].section_end);
}

TEST(MidiBars, FollowTheTimeSignature) {
  // SMF 1.0: FF 58 04 06 03 24 08 is 6/8.
  const Tune tune = read(header(0, 1, 24) + track(meter(6, 3) + c4 + c4));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 3, 6));
  EXPECT_EQ(tune.bars[0].beats, 6);
  EXPECT_EQ(tune.bars[0].beat_unit, 8);
}

TEST(MidiBars, BeginAnewWhereTheTimeSignatureChanges) {
  const Tune tune = read_bars(quarters(6) + meter(3, 2) + quarters(4));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 4, 6, 9));
  EXPECT_EQ(tune.bars[1].length_quarter, 2.0);
  EXPECT_EQ(tune.bars[2].beats, 3);
}

TEST(MidiBars, RunOnWhereTheTimeSignatureIsOnlySaidAgain) {
  EXPECT_THAT(starts_of(read_bars(meter(4, 2) + quarters(6) + meter(4, 2) + quarters(4))),
              ElementsAre(0, 4, 8));
}

TEST(MidiBars, TakeATimeSignatureFromAnyTrackAndTheLaterOfTwo) {
  const Tune tune =
      read(header(1, 2, 1) + track(meter(4, 2) + quarters(6)) + track(meter(3, 2) + quarters(6)));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 3));
}

TEST(MidiBars, LeaveOutATimeSignatureOfNoMeaning) {
  const Tune tune =
      read_bars(meter(0, 2) + meter(4, 8) + Bytes{0x00, 0xFF, 0x58, 0x01, 0x03} + quarters(5));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 4));
  EXPECT_THAT(findings_of(tune),
              ElementsAre("warning: 3 time signatures of no meaning were left out"));
}

TEST(MidiBars, ReadATimeSignatureOfTwoBytes) {
  // As in real files; the last two bytes speak of the metronome alone.
  EXPECT_THAT(starts_of(read_bars(Bytes{0x00, 0xFF, 0x58, 0x02, 0x03, 0x02} + quarters(6))),
              ElementsAre(0, 3));
}

TEST(MidiBars, EndWithTheLastNoteAndHoldANoteOfNoLengthOnTheirLastLine) {
  EXPECT_THAT(starts_of(read_bars(quarters(4))), ElementsAre(0));
  EXPECT_THAT(starts_of(read_bars(quarters(4) + quarters(0))), ElementsAre(0, 4));
}

TEST(MidiBars, StartAtTheTempoOfTheFile) {
  const Tune tune = read_bars(tempo(1'000'000) + quarters(4) + tempo(250'000) + quarters(8));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 4, 8));
  EXPECT_EQ(tune.bars[1].start_s, 4.0);
  EXPECT_EQ(tune.bars[2].start_s, 5.0);
}

TEST(MidiBars, AreTwoSecondsLongInDropFrameTime) {
  // 120/min in 4/4: the bar line falls between two ticks of 1001/30000 s.
  const Tune tune = read(header(0, 1, 0xE301) + track(quarters(100)));
  ASSERT_EQ(starts_of(tune).size(), 2);
  EXPECT_NEAR(tune.bars[1].start_s, 2.0, 1e-12);
}

std::vector<bool> section_ends_of(const Tune& tune) {
  std::vector<bool> ends;
  for (const Bar& bar : tune.bars) ends.push_back(bar.section_end);
  return ends;
}

Bytes meta(std::uint8_t type, const Bytes& data) {
  return Bytes{0x00, 0xFF, type, static_cast<std::uint8_t>(data.size())} + data;
}

// SMF 1.0: FF 06, "such as a rehearsal letter or section name".
TEST(MidiBars, AMarkerBeginsASection) {
  const Tune tune = read_bars(meta(6, text("A")) + quarters(8) + meta(6, text("B")) + quarters(8));
  EXPECT_THAT(section_ends_of(tune), ElementsAre(false, true, false, true));
}

// A mark a little before its bar line, as players set them.
TEST(MidiBars, AMarkerBelongsToTheNearestBarLine) {
  const Tune tune = read_bars(quarters(3) + meta(6, text("B")) + quarters(9));
  EXPECT_THAT(section_ends_of(tune), ElementsAre(true, false, true));
}

// SMF 1.0: FF 59 02 sf mi, sf sharps, or flats as negative bytes.
TEST(MidiBars, ANewKeyBeginsASection) {
  const Tune tune = read_bars(meta(0x59, {1, 0}) + quarters(4) + meta(0x59, {1, 0}) + quarters(4) +
                              meta(0x59, {0xFE, 0}) + quarters(4));
  EXPECT_THAT(section_ends_of(tune), ElementsAre(false, true, true));
}

// MIDI Association RP-017, from memory: a carriage return ends a line, a line feed a verse.
TEST(MidiBars, ALyricThatEndsAVerseEndsASection) {
  const Tune tune =
      read_bars(meta(5, text("la\r")) + quarters(5) + meta(5, text("lo\n")) + quarters(6));
  EXPECT_THAT(section_ends_of(tune), ElementsAre(false, true, true));
}

TEST(MidiBars, ATimeSignatureHeldForFourBarsEndsASectionWhereItChanges) {
  EXPECT_THAT(section_ends_of(read_bars(meter(2, 2) + quarters(8) + meter(3, 2) + quarters(6))),
              ElementsAre(false, false, false, true, false, true));
  EXPECT_THAT(section_ends_of(read_bars(meter(2, 2) + quarters(6) + meter(3, 2) + quarters(6))),
              ElementsAre(false, false, false, false, true));
}

TEST(MidiBars, AMarkAfterTheLastBarIsNoMatter) {
  const Tune tune = read_bars(quarters(8) + meta(6, text("end")));
  EXPECT_THAT(section_ends_of(tune), ElementsAre(false, true));
}

// As notation programs write a pickup (common practice, no source).
TEST(MidiBars, AShortFirstBarIsAPickupWithTheNumberZero) {
  const Tune tune = read_bars(meter(1, 2) + quarters(1) + meter(3, 2) + quarters(6));
  EXPECT_THAT(starts_of(tune), ElementsAre(0, 1, 4));
  EXPECT_EQ(tune.bars[0].number, 0);
  EXPECT_EQ(tune.bars[2].number, 2);
  EXPECT_EQ(read_bars(meter(3, 2) + quarters(3) + meter(1, 2) + quarters(1)).bars[0].number, 1);
  EXPECT_EQ(read_bars(meter(1, 2) + quarters(2) + meter(3, 2) + quarters(3)).bars[0].number, 1);
}

}  // namespace
}  // namespace combwright::music
