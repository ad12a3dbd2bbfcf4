// SPDX-License-Identifier: Apache-2.0
#include "music/pitch.h"

#include <array>

#include <gtest/gtest.h>

namespace combwright::music {
namespace {

TEST(Pitch, OfOctaveFourIsEqualTempered) {
  // Equal temperament on A4 = 440 Hz (ISO 16:1975), as printed in tables of note frequencies.
  constexpr std::array table = {261.6256, 277.1826, 293.6648, 311.1270, 329.6276, 349.2282,
                                369.9944, 391.9954, 415.3047, 440.0000, 466.1638, 493.8833};
  for (int i = 0; i < 12; ++i) EXPECT_NEAR(equal_tempered_hz(60 + i), table[i], 0.5e-4);
  EXPECT_NEAR(equal_tempered_hz(36), 65.406391, 0.5e-6);
  EXPECT_NEAR(equal_tempered_hz(108), 4186.009045, 0.5e-6);
}

TEST(Pitch, FollowsThePitchOfA4) {
  EXPECT_DOUBLE_EQ(equal_tempered_hz(69, 435.0), 435.0);
  EXPECT_DOUBLE_EQ(equal_tempered_hz(81, 435.0), 870.0);
}

// The syntonic comma is 21.506290 cents, 81/80 (definition).
TEST(Pitch, IsNearestToANoteAndSoManyCentsOff) {
  const auto nearest = nearest_note(440.0 * 81.0 / 80.0);
  ASSERT_TRUE(nearest);
  EXPECT_EQ(nearest->midi, 69);
  EXPECT_NEAR(nearest->offset_cents, 21.506290, 1e-6);
  EXPECT_EQ(nearest_note(261.0)->midi, 60);
  EXPECT_EQ(nearest_note(440.0, 466.0)->midi, 68);
  EXPECT_FALSE(nearest_note(7.0));
  EXPECT_FALSE(nearest_note(14'000.0));
}

TEST(NoteName, CountsMiddleCAsC4) {
  // Middle C is note 60 (MIDI 1.0) and C4 (scientific pitch notation, ANSI S1.1).
  EXPECT_EQ(note_name(60), "C4");
  EXPECT_EQ(note_name(69), "A4");
  EXPECT_EQ(note_name(0), "C-1");
  EXPECT_EQ(note_name(127), "G9");
  EXPECT_EQ(note_name(78), "F#5");
}

TEST(NoteName, NamesTheBlackKeysAsTheMeantoneKeyboardDoes) {
  // The twelve keys of quarter-comma meantone run by fifths from Eb to G# (encyclopedia article
  // "Quarter-comma meantone", table of the chromatic scale).
  constexpr std::array fifths = {"Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#"};
  for (int i = 0; i < 12; ++i) {
    const std::string name = note_name(60 + (3 + 7 * i) % 12);
    EXPECT_EQ(name, std::string(fifths.at(static_cast<std::size_t>(i))) + "4");
  }
}

TEST(NoteName, ReadsBackWhatItWrites) {
  for (int midi = 0; midi < 128; ++midi) EXPECT_EQ(parse_note(note_name(midi)), midi);
}

TEST(NoteName, ReadsFlatsAndNeighboursAcrossTheOctave) {
  EXPECT_EQ(parse_note("Eb3"), 51);
  EXPECT_EQ(parse_note("Cb4"), 59);
  EXPECT_EQ(parse_note("B#3"), 60);
  EXPECT_EQ(parse_note("E#4"), 65);
}

TEST(PitchClass, IsTheSameInEveryOctaveBelowZeroToo) {
  for (int midi = -48; midi < 128; midi += 12) EXPECT_EQ(pitch_class(midi), 0);
  EXPECT_EQ(pitch_class(59), 11);
  EXPECT_EQ(pitch_class(-1), 11);
  EXPECT_EQ(pitch_class(-11), 1);
}

TEST(NoteName, RefusesWhatIsNoNote) {
  for (const char* text : {"", "H4", "c4", " 4", "C", "C##4", "C4x", "C 4", "C10", "Cb-1", "G#9",
                           "C-2", "C+4", "4", "C99999999999"})
    EXPECT_EQ(parse_note(text), std::nullopt) << text;
}

}  // namespace
}  // namespace combwright::music
