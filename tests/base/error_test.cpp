// SPDX-License-Identifier: Apache-2.0
#include "base/error.h"

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(Error, says_file_line_and_column_before_the_message) {
  const Error error({.file = "a.toml", .line = 3, .column = 12}, "x is wrong; write y");
  EXPECT_STREQ(error.what(), "a.toml:3:12: x is wrong; write y");
  EXPECT_EQ(error.kind(), Error::Kind::request);
}

TEST(Error, says_the_place_only_as_far_as_it_is_known) {
  EXPECT_STREQ(Error({.file = "a.toml", .line = 3}, "m").what(), "a.toml:3: m");
  EXPECT_STREQ(Error({.file = "a.mid", .byte = 0}, "m").what(), "a.mid:byte 0: m");
  EXPECT_STREQ(Error({.file = "a.mid"}, "m").what(), "a.mid: m");
  EXPECT_STREQ(Error({}, "m").what(), "m");
}

TEST(Error, quoted_text_can_not_break_the_line_or_the_terminal) {
  EXPECT_STREQ(Error({.file = "a"}, "has \"x\ny\x1b[2J\x7f\"").what(), "a: has \"x y [2J \"");
}

}  // namespace
}  // namespace combwright
