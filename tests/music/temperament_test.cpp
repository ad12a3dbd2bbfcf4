// SPDX-License-Identifier: Apache-2.0
#include "music/temperament.h"

#include <gtest/gtest.h>

#include "music/pitch.h"

namespace combwright::music {
namespace {

void expect_near(const Temperament& ours, const Temperament& published, double within_cents) {
  for (std::size_t i = 0; i < ours.size(); ++i)
    EXPECT_NEAR(ours[i], published[i], within_cents) << "note " << i << " above C";
}

// Fifths of 5^(1/4), 696.578 cents, as encyclopedias have them ("Quarter-comma meantone"); the
// digits by 30-digit arithmetic.
TEST(Temperament, MeantoneHasThePublishedCents) {
  expect_near(quarter_comma_meantone(),
              {0, 76.0490, 193.1569, 310.2647, 386.3137, 503.4216, 579.4706, 696.5784, 772.6274,
               889.7353, 1006.8431, 1082.8921},
              5e-5);
}

TEST(Temperament, MeantoneHasEightPureThirdsAndOneWolf) {
  const Temperament meantone = quarter_comma_meantone();
  const auto up = [&](int from, int semitones) {
    const int to = from + semitones;
    return meantone[static_cast<std::size_t>(to % 12)] + 1200.0 * (to / 12) -
           meantone[static_cast<std::size_t>(from)];
  };
  int pure_thirds = 0;
  for (int note = 0; note < 12; ++note)
    pure_thirds += std::abs(up(note, 4) - cents(1.25)) < 1e-9 ? 1 : 0;
  EXPECT_EQ(pure_thirds, 8);
  EXPECT_NEAR(up(8, 7), 737.637, 5e-4);  // G# to Eb
}

// Tonalsoft encyclopedia, "Werckmeister": C# 90.225, F# 588.270, G# 792.180; the others by 30-digit
// arithmetic from its recipe.
TEST(Temperament, WerckmeistersThirdHasThePublishedCents) {
  expect_near(werckmeister_3(),
              {0, 90.2250, 192.1800, 294.1350, 390.2250, 498.0450, 588.2700, 696.0900, 792.1800,
               888.2700, 996.0900, 1092.1800},
              5e-5);
}

// By its recipe in 30-digit arithmetic; the recipe is from memory.
TEST(Temperament, VallottiHasTheCentsOfItsRecipe) {
  expect_near(vallotti(),
              {0, 94.1350, 196.0900, 298.0450, 392.1800, 501.9550, 592.1800, 698.0450, 796.0900,
               894.1350, 1000.0000, 1090.2250},
              5e-5);
}

TEST(Temperament, EqualTemperamentIsThatOfItsDefinition) {
  for (int midi = 0; midi <= 127; ++midi) {
    EXPECT_NEAR(tempered_hz(midi, equal_temperament(), 440.0) / equal_tempered_hz(midi, 440.0), 1.0,
                1e-14);
  }
}

TEST(Temperament, A4KeepsItsPitchInAnyTemperamentFromAnyTonic) {
  for (const Temperament& temperament : {quarter_comma_meantone(), werckmeister_3(), vallotti()}) {
    for (int tonic = 0; tonic < 12; ++tonic)
      EXPECT_NEAR(tempered_hz(69, from_tonic(temperament, tonic), 415.0), 415.0, 1e-10);
  }
}

// From D the pure thirds of meantone begin on F, C, G, D, A, E, B and F# instead of Eb to E.
TEST(Temperament, FromAnotherTonicTheIntervalsMoveWithIt) {
  const Temperament from_d = from_tonic(quarter_comma_meantone(), 2);
  const auto third = [&](int midi) {
    return cents(tempered_hz(midi + 4, from_d, 440.0) / tempered_hz(midi, from_d, 440.0));
  };
  for (const int midi : {65, 60, 67, 62, 69, 64, 71, 66})
    EXPECT_NEAR(third(midi), cents(1.25), 1e-9);
  for (const int midi : {61, 63, 68, 70}) EXPECT_GT(third(midi), 420.0);
}

}  // namespace
}  // namespace combwright::music
