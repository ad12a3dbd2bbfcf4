// SPDX-License-Identifier: Apache-2.0
// midi_corpus_test.py reads what write_midi makes of real tunes back with two independent readers.
#include "music/midi_writer.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "music/midi_files.h"
#include "music/midi_invariants.h"

namespace combwright::music {
namespace {

using by_hand::read;
using testing::ElementsAreArray;
using testing::IsEmpty;

TEST(MidiWriter, WritesTheBytesOfTheStandard) {
  // SMF 1.0: chunks, variable-length delta times and the events spelled out.
  const std::vector<MidiEvent> events = {
      {.onset_s = 0.01, .duration_s = 0.02, .midi = 60, .velocity = 80, .channel = 2}};
  using namespace by_hand;
  const Bytes expected = header(1, 2, 10'000) + track(name(text("Air")) + tempo(1'000'000)) +
                         track({0x00, 0xC2, 10, 0x64, 0x92, 60, 80, 0x81, 0x48, 0x82, 60, 80});
  EXPECT_THAT(write_midi(events, "Air", 10), ElementsAreArray(expected));
}

TEST(MidiWriter, KeepsOnsetsWithinHalfATick) {
  std::vector<MidiEvent> events;
  events.reserve(100);
  for (int i = 0; i < 100; ++i)
    events.push_back({.onset_s = i * 0.123456789, .duration_s = 0.5, .midi = 20 + i});
  const Tune tune = read(write_midi(events, "", 0));
  ASSERT_EQ(tune.notes.size(), events.size());
  for (std::size_t i = 0; i < events.size(); ++i) {
    EXPECT_NEAR(tune.notes[i].onset_s, events[i].onset_s, 0.05e-3 + 1e-12);
    EXPECT_EQ(tune.notes[i].midi, events[i].midi);
  }
  EXPECT_EQ(tune.tempos[0].quarters_per_minute, 60.0);
}

TEST(MidiWriter, LetsAKeyGoBeforeItIsStruckAgain) {
  const Tune tune = read(write_midi(
      {{.onset_s = 1.0, .duration_s = 1.0}, {.onset_s = 0.0, .duration_s = 1.0}}, "", 0));
  ASSERT_EQ(tune.notes.size(), 2);
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_s, 1.0);
  EXPECT_DOUBLE_EQ(tune.notes[1].duration_s, 1.0);
}

TEST(MidiWriter, GivesANoteOfNoLengthOneTick) {
  const Tune tune = read(write_midi({{.onset_s = 1.0, .duration_s = 0.0}}, "", 0));
  ASSERT_EQ(tune.notes.size(), 1);
  EXPECT_DOUBLE_EQ(tune.notes[0].duration_quarter, 1e-4);  // a quarter lasts a second
  EXPECT_THAT(tune.findings, IsEmpty());
}

TEST(MidiWriter, SplitsAWaitThatOneDeltaTimeCannotHold) {
  // 0FFFFFFF ticks are 26,843.5455 s.
  const Tune tune = read(write_midi({{.onset_s = 60'000.0, .duration_s = 1.0}}, "", 0));
  ASSERT_EQ(tune.notes.size(), 1);
  EXPECT_DOUBLE_EQ(tune.notes[0].onset_s, 60'000.0);
}

TEST(MidiWriter, SetsTheProgramOfEveryChannelUsed) {
  const Tune tune = read(write_midi({{.channel = 0}, {.channel = 15}}, "T\xC3\xA4nze", 10));
  EXPECT_EQ(tune.title, "T\xC3\xA4nze");
  ASSERT_EQ(tune.parts.size(), 2);
  EXPECT_EQ(tune.parts[0].program, 10);
  EXPECT_EQ(tune.parts[1].program, 10);
}

TEST(MidiWriter, WritesATuneWithoutNotes) {
  EXPECT_THAT(read(write_midi({}, "", 0)).notes, IsEmpty());
}

}  // namespace
}  // namespace combwright::music
