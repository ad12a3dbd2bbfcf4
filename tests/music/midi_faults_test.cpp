// SPDX-License-Identifier: Apache-2.0
// What is mended and what is refused in files that break the standard. The mended faults are those
// that real files have (the corpus of tests/corpus/midi.sh, and common practice, no source).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/midi_files.h"
#include "music/midi_invariants.h"

namespace combwright::music {
namespace {

using namespace by_hand;
using testing::ElementsAre;

TEST(MidiFaults, TakesAnInstrumentNumberAbove127WithoutItsTopBit) {
  const Tune tune = read_track(Bytes{0x00, 0xC0, 0x8A} + c4);
  EXPECT_EQ(tune.parts[0].program, 10);
  EXPECT_THAT(findings_of(tune),
              ElementsAre("note: 1 instrument number above 127 was taken without its top bit"));
}

TEST(MidiFaults, KeepsWhatCameBeforeACutInTheMiddleOfAnEvent) {
  Bytes file = header(0, 1, 96) + track(c4 + c4);
  file.resize(file.size() - end_of_track.size() - 1);
  const Tune tune = read(file);
  EXPECT_EQ(tune.notes.size(), 2);
  EXPECT_THAT(
      findings_of(tune),
      ElementsAre(
          "warning: 1 track is cut short in the middle of an event; what came before it was kept",
          "warning: 1 note is never released; it was ended with its track"));
}

TEST(MidiFaults, SaysWhenTheEndOfTrackIsMissing) {
  const Tune tune = read(header(0, 1, 96) + chunk("MTrk", c4));
  EXPECT_EQ(tune.notes.size(), 1);
  EXPECT_THAT(findings_of(tune), ElementsAre("warning: 1 track has no end-of-track event"));
}

TEST(MidiFaults, SaysWhenTracksAreMissing) {
  const Tune tune = read(header(1, 3, 96) + track(c4));
  EXPECT_THAT(findings_of(tune), ElementsAre("warning: the file promises 3 tracks but holds 1"));
}

TEST(MidiFaults, LeavesOutWhatFollowsTheEndOfTrack) {
  const Tune tune = read_track(c4 + end_of_track + c4);
  EXPECT_EQ(tune.notes.size(), 1);
  EXPECT_THAT(
      findings_of(tune),
      ElementsAre(
          "warning: 1 track goes on after its end-of-track event; what follows was left out"));
}

TEST(MidiFaults, ReadsAFormat0FileOfTwoTracks) {
  EXPECT_EQ(read(header(0, 2, 96) + track(c4) + track(c4)).notes.size(), 2);
}

TEST(MidiFaults, RefusesWhatIsNoMidiFile) {
  EXPECT_EQ(error_of({}),
            "tune.mid:byte 0: not a Standard MIDI File; its first four bytes must be MThd");
  EXPECT_EQ(error_of(text("MThd")), "tune.mid:byte 4: a header of 0 bytes; at least 6 would do");
  EXPECT_EQ(error_of(chunk("MThd", {0, 0, 0, 1})),
            "tune.mid:byte 4: a header of 4 bytes; at least 6 would do");
  EXPECT_EQ(error_of(text("RIFF\1\1\1\1WAVE")),
            "tune.mid:byte 0: a RIFF file without MIDI inside; its form must be RMID");
  EXPECT_EQ(error_of(text("RIFF\1\1\1\1RMID")),
            "tune.mid:byte 0: a RIFF file without a data chunk; one that holds MThd would do");
}

TEST(MidiFaults, RefusesAHeaderThatMakesNoSense) {
  EXPECT_EQ(error_of(header(3, 1, 96) + track(c4)),
            "tune.mid:byte 8: format 3; 0, 1 or 2 would do");
  EXPECT_EQ(error_of(header(1, 0, 96)),
            "tune.mid:byte 10: a file of 0 tracks; at least 1 would do");
  EXPECT_EQ(error_of(header(0, 1, 0) + track(c4)),
            "tune.mid:byte 12: division 0; at least one tick a quarter note would do");
  EXPECT_EQ(error_of(header(0, 1, 0xE628) + track(c4)),
            "tune.mid:byte 12: SMPTE division of 26 frames a second; 24, 25, 29 or 30 would do");
  EXPECT_EQ(error_of(header(0, 1, 0xE700) + track(c4)),
            "tune.mid:byte 12: SMPTE division of 0 ticks a frame; at least 1 would do");
  EXPECT_EQ(error_of(header(0, 1, 96)),
            "tune.mid:byte 14: no track chunk; at least one MTrk would do");
}

TEST(MidiFaults, RefusesEventsThatNoMidiFileHolds) {
  // The first event's delta time is byte 22 of the file.
  for (const int status : {0xF1, 0xF2, 0xF3, 0xF4, 0xF5, 0xF6, 0xF8, 0xFA, 0xFE})
    EXPECT_THAT(error_of(header(0, 1, 96) + track({0x00, static_cast<std::uint8_t>(status)})),
                testing::HasSubstr("tune.mid:byte 23: F"));
  EXPECT_EQ(error_of(header(0, 1, 96) + track({0x00, 0xF4})),
            "tune.mid:byte 23: F4 hex is no event of a MIDI file; F0, F7 or FF would do");
  EXPECT_EQ(error_of(header(0, 1, 96) + track({0x00, 60, 64})),
            "tune.mid:byte 23: data byte 3C hex without a status; an event begins with 80 to FF");
  EXPECT_EQ(error_of(header(0, 1, 96) + track({0x00, 0x90, 0xBC, 64})),
            "tune.mid:byte 24: key 188 with velocity 64; both run from 0 to 127");
  EXPECT_EQ(error_of(header(0, 1, 96) + track({0x81, 0x80, 0x80, 0x80, 0x00})),
            "tune.mid:byte 22: a number of variable length runs over four bytes; its fourth byte "
            "must be below 80 hex");
}

TEST(MidiFaults, RefusesMoreNotesThanATuneHolds) {
  Bytes events{0x00, 0x90};
  for (std::size_t i = 0; i < max_notes; ++i) events.insert(events.end(), {60, 64, 0x00});
  events.pop_back();
  const Tune tune = read_track(events);
  EXPECT_EQ(tune.notes.size(), max_notes);
  EXPECT_EQ(broken_promise(tune), "");
  EXPECT_THAT(error_of(header(0, 1, 96) + track(events + Bytes{0x00, 60, 64})),
              testing::EndsWith("more than 1000000 notes; that many would do"));
}

TEST(MidiFaults, RefusesMoreBarsThanATuneHolds) {
  // Each wait of 0FFFFFFF ticks is 268,435,455 quarter notes at division 1.
  EXPECT_EQ(error_of(header(0, 1, 1) + track(Bytes{0xFF, 0xFF, 0xFF, 0x7F, 0x90, 60, 64})),
            "tune.mid: more than 100000 bars; a shorter tune would do");
}

TEST(MidiFaults, RefusesMoreTicksThanAnyTuneNeeds) {
  Bytes events;
  for (int i = 0; i < 513; ++i) events = events + Bytes{0xFF, 0xFF, 0xFF, 0x7F, 0xFF, 0x01, 0x00};
  EXPECT_THAT(
      error_of(header(0, 1, 96) + track(events)),
      testing::EndsWith("the file is longer than any tune; fewer than 2^37 ticks would do"));
}

}  // namespace
}  // namespace combwright::music
