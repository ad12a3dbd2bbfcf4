// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/cents.h"

namespace combwright::music {

// "C4" for 60; the black keys are C#, Eb, F#, G# and Bb, so that the twelve notes are one chain of
// fifths from Eb to G#, as on keyboards in meantone temperament. Valid for 0..127.
std::string note_name(int midi);

// Semitones above the C below, 0..11, of any whole number: 0 for 60, 11 for -1.
constexpr int pitch_class(int midi) {
  return ((midi % 12) + 12) % 12;
}

// The MIDI number of "C4", "F#5", "Eb3", 0..127; nothing if the text is not a note name.
std::optional<int> parse_note(std::string_view name);

// Frequency in equal temperament: a4_hz * 2^((midi - 69) / 12) (definition; A4 = 440 Hz is ISO 16).
double equal_tempered_hz(int midi, double a4_hz = 440.0);

using combwright::cents;

struct NearestNote {
  int midi = 0;
  double offset_cents = 0.0;  // of the frequency from the note, -50..50
};

// The note of equal temperament nearest to a frequency above 0; nothing if it lies outside 0..127.
std::optional<NearestNote> nearest_note(double frequency_hz, double a4_hz = 440.0);

}  // namespace combwright::music
