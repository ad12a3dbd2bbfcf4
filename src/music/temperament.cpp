// SPDX-License-Identifier: Apache-2.0
#include "music/temperament.h"

#include <cassert>
#include <cmath>

#include "music/pitch.h"

namespace combwright::music {
namespace {

// Eleven fifths, the first from Eb to Bb, the last from C# to G#: along the chain that the names of
// the notes come from.
using Fifths = std::array<double, 11>;

Temperament from_fifths(const Fifths& fifths) {
  constexpr int e_flat = 3;
  constexpr int semitones_in_fifth = 7;
  Temperament above_e_flat{};
  int note = e_flat;
  double cents = 0.0;
  above_e_flat[static_cast<std::size_t>(note)] = 0.0;
  for (const double fifth : fifths) {
    note = (note + semitones_in_fifth) % notes_in_octave;
    cents += fifth;
    above_e_flat[static_cast<std::size_t>(note)] = cents;
  }
  Temperament above_c{};
  for (std::size_t i = 0; i < above_c.size(); ++i) {
    const double above = above_e_flat[i] - above_e_flat[0];
    above_c[i] = above - octave_cents * std::floor(above / octave_cents);
  }
  return above_c;
}

double pure_fifth() {
  return cents(1.5);
}

// By which twelve pure fifths are more than seven octaves.
double pythagorean_comma() {
  return 12.0 * pure_fifth() - 7.0 * octave_cents;
}

}  // namespace

Temperament equal_temperament() {
  Temperament temperament{};
  for (std::size_t i = 0; i < temperament.size(); ++i)
    temperament[i] = 100.0 * static_cast<double>(i);
  return temperament;
}

Temperament quarter_comma_meantone() {
  Fifths fifths{};
  fifths.fill(cents(5.0) / 4.0);
  return from_fifths(fifths);
}

Temperament werckmeister_3() {
  const double pure = pure_fifth();
  const double narrow = pure - pythagorean_comma() / 4.0;
  //                  Eb-Bb Bb-F  F-C   C-G     G-D     D-A     A-E   E-B   B-F#    F#-C# C#-G#
  return from_fifths({pure, pure, pure, narrow, narrow, narrow, pure, pure, narrow, pure, pure});
}

Temperament vallotti() {
  const double pure = pure_fifth();
  const double narrow = pure - pythagorean_comma() / 6.0;
  //                  Eb-Bb Bb-F  F-C     C-G     G-D     D-A     A-E     E-B     B-F#  F#-C# C#-G#
  return from_fifths(
      {pure, pure, narrow, narrow, narrow, narrow, narrow, narrow, pure, pure, pure});
}

Temperament from_tonic(const Temperament& temperament, int tonic) {
  assert(tonic >= 0 && tonic < notes_in_octave);
  Temperament result{};
  for (int note = 0; note < notes_in_octave; ++note) {
    const int step = pitch_class(note - tonic);
    const double octave = note < tonic ? octave_cents : 0.0;
    result[static_cast<std::size_t>(note)] =
        100.0 * tonic + temperament[static_cast<std::size_t>(step)] - octave;
  }
  return result;
}

double tempered_hz(int midi, const Temperament& temperament, double a4_hz) {
  constexpr int a4 = 69;
  const auto cents_of = [&](int note) {
    return octave_cents * std::floor(note / 12.0) +
           temperament[static_cast<std::size_t>(pitch_class(note))];
  };
  return a4_hz * std::exp2((cents_of(midi) - cents_of(a4)) / octave_cents);
}

}  // namespace combwright::music
