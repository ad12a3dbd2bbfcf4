// SPDX-License-Identifier: Apache-2.0
#include "sound/left_out.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "scene.h"

namespace combwright::sound {
namespace {

arrange::Arrangement with_notes(std::vector<arrange::ArrangedNote> notes) {
  arrange::Arrangement arrangement;
  arrangement.turn_time_s = 4.0;
  arrangement.transpose_semitones = 2;
  arrangement.notes = std::move(notes);
  return arrangement;
}

// How strongly a frequency sounds in a second from the given moment (Goertzel's sum).
double strength(const Preview& preview, double from_s, double hz) {
  std::complex<double> sum;
  const auto first = static_cast<std::size_t>(from_s * preview.sample_rate_hz);
  for (int i = 0; i < preview.sample_rate_hz; ++i)
    sum += static_cast<double>(preview.left[first + i]) *
           std::polar(1.0, -2.0 * std::numbers::pi * hz * i / preview.sample_rate_hz);
  return std::abs(sum) / preview.sample_rate_hz;
}

TEST(LeftOut, SoundsWhatWasDroppedAtItsOwnPitchAndTime) {
  const box::Box box = test::box_with({57, 69});  // A3, A4
  const auto combs = test::bars_for(box);
  // C5 and D5 with the transposition; B4 was kept.
  const Preview heard = left_out(
      box, combs,
      with_notes({{.index = 0, .onset_s = 0.5, .midi = 70, .fate = arrange::Fate::dropped},
                  {.index = 1, .onset_s = 1.0, .midi = 69, .fate = arrange::Fate::kept},
                  {.index = 2, .onset_s = 2.0, .midi = 72, .fate = arrange::Fate::dropped}}));
  const double c5 = 440.0 * std::exp2(3.0 / 12.0);
  const double d5 = 440.0 * std::exp2(5.0 / 12.0);
  const double b4 = 440.0 * std::exp2(2.0 / 12.0);
  EXPECT_GT(strength(heard, 0.5, c5), 30.0 * strength(heard, 0.5, 440.0));
  EXPECT_GT(strength(heard, 0.5, c5), 30.0 * strength(heard, 0.5, b4));
  EXPECT_LT(strength(heard, 0.5, d5), 0.03 * strength(heard, 0.5, c5));
  EXPECT_GT(strength(heard, 2.0, d5), strength(heard, 2.0, c5));
  EXPECT_EQ(*std::max_element(heard.left.begin(), heard.left.begin() + 23'000), 0.0F);
}

TEST(LeftOut, IsSilentWhereNothingWasDropped) {
  const box::Box box = test::box_with({57, 69});
  const Preview heard =
      left_out(box, test::bars_for(box),
               with_notes({{.onset_s = 0.5, .midi = 67, .fate = arrange::Fate::moved}}));
  EXPECT_TRUE(std::isinf(heard.peak_dbfs));
}

TEST(LeftOut, TeethAreFoundWhereTheBassLiesOutside) {
  box::Box box = test::box_with({57, 69});
  box.tracks.bass = box::BassSide::outer;
  // By track: A4 within, A3 outside.
  const auto combs = test::bars_for(test::box_with({69, 57}));
  const Preview heard = left_out(
      box, combs,
      with_notes({{.index = 0, .onset_s = 0.0, .midi = 67, .fate = arrange::Fate::dropped}}));
  EXPECT_GT(strength(heard, 0.0, 440.0), 30.0 * strength(heard, 0.0, 220.0));
}

}  // namespace
}  // namespace combwright::sound
