// SPDX-License-Identifier: Apache-2.0
// docs/box.md and docs/shop.md hold the key tables between two marks. With COMBWRIGHT_WRITE_DOCS
// set in the environment these tests write them anew.
#include <cstdlib>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/file.h"
#include "box/box_keys.h"
#include "box/key_reader.h"
#include "box/markdown.h"
#include "box/shop_keys.h"

namespace combwright::box {
namespace {

constexpr std::string_view begin_mark =
    "<!-- the tables below are written from the key table -->\n";
constexpr std::string_view end_mark = "<!-- end of the tables -->\n";

void expect_reference(const std::string& path, const std::string& reference) {
  const std::string text(as_text(read_file(path)));
  const std::size_t begin = text.find(begin_mark);
  const std::size_t end = text.find(end_mark);
  ASSERT_NE(begin, std::string::npos);
  ASSERT_NE(end, std::string::npos);
  const std::size_t from = begin + begin_mark.size();
  const std::string wanted = "\n" + reference + "\n";
  if (std::getenv("COMBWRIGHT_WRITE_DOCS") != nullptr)
    write_file(path, text.substr(0, from) + wanted + text.substr(end));
  else
    EXPECT_EQ(text.substr(from, end - from), wanted)
        << "run this test with COMBWRIGHT_WRITE_DOCS=1 to write " << path << " anew";
}

TEST(Reference, the_box_documentation_holds_the_key_table) {
  expect_reference(COMBWRIGHT_SOURCE_DIR "/docs/box.md",
                   markdown_reference(box_schema().sections, infos(box_schema())));
}

TEST(Reference, the_shop_documentation_holds_the_key_table) {
  expect_reference(COMBWRIGHT_SOURCE_DIR "/docs/shop.md",
                   markdown_reference(shop_schema().sections, infos(shop_schema())));
}

TEST(Reference, a_key_is_one_row) {
  const KeyInfo key{.section = "disc",
                    .name = "thickness",
                    .kind = Kind::quantity,
                    .least = "0.1 mm",
                    .greatest = "3 mm",
                    .absent = Otherwise::fallback,
                    .otherwise = "0.5 mm",
                    .help = "Of the sheet."};
  EXPECT_EQ(markdown_table({key}),
            "| key | write | bounds | if not given | meaning |\n"
            "| --- | --- | --- | --- | --- |\n"
            "| `thickness` | mm, cm, m, um or in | 0.1 mm to 3 mm | `0.5 mm` | Of the sheet. |\n");
}

TEST(Markdown, a_key_that_nothing_uses_yet_says_so) {
  const KeyInfo key{.section = "steel",
                    .name = "density",
                    .kind = Kind::quantity,
                    .dimension = Dimension::density,
                    .help = "Of the combs.",
                    .for_later = true};
  EXPECT_THAT(markdown_table({key}), testing::HasSubstr("| Of the combs. *Stored for later.* |\n"));
}

}  // namespace
}  // namespace combwright::box
