// SPDX-License-Identifier: Apache-2.0
#include "arrange/excerpt.h"

#include <gtest/gtest.h>

namespace combwright::arrange {
namespace {

// Bars of 2 s with a melody in quarters; every eighth bar ends on a held note.
music::Tune long_tune(int bars) {
  music::Tune tune;
  tune.parts = {{"melody", 0}};
  tune.tempos = {{}};
  for (int b = 0; b < bars; ++b) {
    tune.bars.push_back({.number = b + 1, .start_s = 2.0 * b, .start_quarter = 4.0 * b});
    const int notes = b % 8 == 7 ? 1 : 4;
    for (int n = 0; n < notes; ++n)
      tune.notes.push_back({.onset_s = 2.0 * b + 0.5 * n,
                            .duration_s = notes == 1 ? 2.0 : 0.5,
                            .onset_quarter = 4.0 * b + n,
                            .duration_quarter = notes == 1 ? 4.0 : 1.0,
                            .midi = 72 + (b + n) % 5});
  }
  return tune;
}

TEST(ChooseExcerpt, TakesAWholeTuneThatFits) {
  const music::Tune tune = long_tune(16);
  const ExcerptChoice choice = choose_excerpt(tune, score(tune), 40.0, 1.0);
  EXPECT_TRUE(choice.whole);
  EXPECT_EQ(choice.bars.last, 16);
}

TEST(ChooseExcerpt, EndsAtAPhraseEndThatFits) {
  const music::Tune tune = long_tune(64);
  const ExcerptChoice choice = choose_excerpt(tune, score(tune), 60.0, 1.1);
  EXPECT_EQ(choice.bars.first, 1);
  EXPECT_EQ(choice.bars.last, 32);
  EXPECT_TRUE(choice.at_phrase_end);
  EXPECT_LE(onset_span_s(score(tune), choice.bars), 60.0 * 1.1);
}

TEST(PhraseEnds, ADoubleBarIsClearerThanAnyOtherBar) {
  music::Tune tune = long_tune(16);
  tune.bars[4].section_end = true;
  const std::vector<double> ends = phrase_ends(tune, score(tune));
  for (const std::size_t b : {0, 1, 2, 3, 5, 6}) EXPECT_LT(ends[b], ends[4]) << b;
}

}  // namespace
}  // namespace combwright::arrange
