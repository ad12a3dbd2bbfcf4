// SPDX-License-Identifier: Apache-2.0
#include "base/text.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(Text, is_trimmed_at_both_ends_only) {
  EXPECT_EQ(trimmed(" \t two words\r\n"), "two words");
  EXPECT_EQ(trimmed(" \n"), "");
}

TEST(Text, letters_are_counted_not_bytes) {
  EXPECT_EQ(letters("F\u266f5 \u00fc"), 5U);
  EXPECT_EQ(letters(""), 0U);
}

}  // namespace
}  // namespace combwright
