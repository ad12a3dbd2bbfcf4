// SPDX-License-Identifier: Apache-2.0
#include "box/paper_kind.h"

#include <gtest/gtest.h>

#include "base/file.h"

namespace combwright::box {
namespace {

bool example_is_shop(const std::string& name) {
  return is_shop_file(as_text(read_file(COMBWRIGHT_SOURCE_DIR "/examples/" + name)));
}

TEST(PaperKind, the_examples_are_what_they_are) {
  EXPECT_TRUE(example_is_shop("shop.toml"));
  EXPECT_FALSE(example_is_shop("bramble.toml"));
  EXPECT_FALSE(example_is_shop("larkspur.toml"));
}

TEST(PaperKind, a_shop_is_one_by_any_section_of_its_own) {
  EXPECT_TRUE(is_shop_file("name = \"mine\"\r\n  [[ sheet ]] # at hand\r\nthickness = 5"));
  EXPECT_TRUE(is_shop_file("[punch"));
}

TEST(PaperKind, a_box_that_cannot_be_read_is_still_no_shop) {
  for (const char* text :
       {"", "[", "[[", "[disc", "[disc]\ndiameter = ", "# [punch]", "[nothing]", "\n\n"})
    EXPECT_FALSE(is_shop_file(text)) << text;
}

}  // namespace
}  // namespace combwright::box
