// SPDX-License-Identifier: Apache-2.0
#include "base/suggest.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

// The pair every text on the Levenshtein distance works through: substitute k, substitute e,
// append g. Common practice, no source.
TEST(EditDistance, kitten_is_three_edits_from_sitting) {
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3U);
}

// Optimal string alignment, not the unrestricted distance, which gives 2 for this pair
// (Boytsov, ACM JEA 16 (2011), from memory).
TEST(EditDistance, ca_is_three_edits_from_abc) {
  EXPECT_EQ(edit_distance("ca", "abc"), 3U);
}

TEST(EditDistance, swapped_neighbours_are_one_edit) {
  EXPECT_EQ(edit_distance("ptich", "pitch"), 1U);
}

TEST(NearestWord, a_slip_of_the_pen_finds_its_word) {
  EXPECT_EQ(nearest_word("diametre", {"thickness", "diameter"}), "diameter");
}

TEST(NearestWord, a_foreign_word_finds_none) {
  EXPECT_EQ(nearest_word("colour", {"thickness", "diameter"}), "");
}

TEST(NearestWord, a_very_long_word_is_not_compared) {
  EXPECT_EQ(nearest_word(std::string(65, 'a'), {std::string(64, 'a')}), "");
}

}  // namespace
}  // namespace combwright
