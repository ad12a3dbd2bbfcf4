// SPDX-License-Identifier: Apache-2.0
#include "base/text.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(Text, is_trimmed_at_both_ends_only) {
  EXPECT_EQ(trimmed(" \t two words\r\n"), "two words");
  EXPECT_EQ(trimmed(" \n"), "");
}

TEST(Text, a_number_is_the_whole_text_or_none) {
  EXPECT_EQ(parse_number<int>("-40"), -40);
  EXPECT_EQ(parse_number<double>("701.955"), 701.955);
  for (const char* text : {"", " 4", "4 ", "+4", "4x", "4.5", "99999999999"})
    EXPECT_EQ(parse_number<int>(text), std::nullopt) << text;
  EXPECT_EQ(parse_number<unsigned>("-1"), std::nullopt);
}

TEST(Text, letters_are_counted_not_bytes) {
  EXPECT_EQ(letters("F\u266f5 \u00fc"), 5U);
  EXPECT_EQ(letters(""), 0U);
}

}  // namespace
}  // namespace combwright
