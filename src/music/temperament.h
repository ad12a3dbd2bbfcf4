// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

namespace combwright::music {

inline constexpr int notes_in_octave = 12;
inline constexpr double octave_cents = 1200.0;

// Where the twelve notes of an octave lie, in cents above its first note, rising: C, C#, D, Eb,
// ..., B if the first is C. An octave is 1200 cents.
using Temperament = std::array<double, notes_in_octave>;

// All semitones alike (definition).
Temperament equal_temperament();

// Eleven fifths of 5^(1/4) from Eb to G#, so that the eight thirds between them are pure
// (encyclopedia article "Quarter-comma meantone").
Temperament quarter_comma_meantone();

// C-G-D-A and B-F# narrow by a quarter of the Pythagorean comma, the other fifths pure
// (A. Werckmeister, Musicalische Temperatur, 1691, his third).
Temperament werckmeister_3();

// F-C-G-D-A-E-B narrow by a sixth of the Pythagorean comma, the other fifths pure (F. Vallotti;
// from memory).
Temperament vallotti();

// The same intervals from C on if its first note is not C but this one, 0..11 semitones above C.
// What passes B is lowered by an octave, so that the notes stand from C again; C need not be at 0.
Temperament from_tonic(const Temperament& temperament, int tonic);

// Frequency of a MIDI note, its A4 (69) at a4_hz.
double tempered_hz(int midi, const Temperament& temperament, double a4_hz);

}  // namespace combwright::music
