// SPDX-License-Identifier: Apache-2.0
#include "box/document.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace combwright::box {
namespace {

std::string refusal(const std::string& text) {
  try {
    parse_document(text, "d.toml");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

std::string repeated(const std::string& text, std::size_t times) {
  std::string result;
  for (std::size_t i = 0; i < times; ++i) result += text;
  return result;
}

TEST(Document, entries_come_in_the_order_of_the_file_with_their_places) {
  const Document document = parse_document("b = 1\n[z]\ny = [\"p\", 2]\nx = 1.5\n", "d.toml");
  ASSERT_EQ(document.entries.size(), 3U);
  EXPECT_EQ(document.entries[0].key, "b");
  EXPECT_EQ(document.entries[1].key, "y");
  EXPECT_EQ(document.entries[2].key, "x");
  EXPECT_TRUE(document.entries[1].is_list);
  EXPECT_EQ(to_text(document.entries[1].value_place), "d.toml:3:5");
  EXPECT_EQ(to_text(document.entries[1].items[1].place), "d.toml:3:11");
  EXPECT_EQ(describe(document.entries[1].items[1]), "a bare number");
}

TEST(Document, repeated_sections_are_counted) {
  const Document document = parse_document("[[c]]\nx = 1\n[[c]]\nx = 2\n", "d.toml");
  ASSERT_EQ(document.entries.size(), 2U);
  EXPECT_EQ(document.entries[1].row, 1U);
  EXPECT_EQ(document.sections.size(), 2U);
}

TEST(Document, a_megabyte_is_the_limit) {
  EXPECT_EQ(refusal(repeated("#\n", max_document_bytes / 2)), "");
  EXPECT_EQ(refusal(repeated("#\n", max_document_bytes / 2) + "#"),
            "d.toml: is 1048577 bytes long; at most 1 MB are read");
}

TEST(Document, a_long_line_is_refused) {
  EXPECT_EQ(refusal("a = 1\n#" + std::string(max_line_bytes, 'x')),
            "d.toml:2:1: this line has 1001 bytes; break it, at most 1000 are read");
}

TEST(Document, a_long_list_is_refused) {
  EXPECT_EQ(refusal("a = [" + repeated("1,\n", max_items) + "]\n"), "");
  EXPECT_EQ(refusal("a = [" + repeated("1,\n", max_items + 1) + "]\n"),
            "d.toml:1:5: a has 401 items; at most 400 are read");
  EXPECT_EQ(refusal(repeated("[[a]]\n", max_items + 1)),
            "d.toml:1:3: a has 401 rows; at most 400 are read");
}

TEST(Document, deep_nesting_is_refused_not_followed) {
  EXPECT_THAT(refusal("a = " + repeated("[\n", 100000)), testing::StartsWith("d.toml:"));
  const std::string long_key = repeated("a.", 490) + "b";
  EXPECT_THAT(refusal(fmt::format("{} = [\n", long_key) +
                      repeated(fmt::format("{{{} = [\n", long_key), 400)),
              testing::StartsWith("d.toml:"));
}

TEST(Document, dotted_keys_as_deep_as_a_line_allows_are_harmless) {
  std::string text;
  for (int i = 0; i < 900; ++i) text += fmt::format("[{}{}]\n", repeated("a.", 490), i);
  EXPECT_EQ(refusal(text), "");
}

// The TOML library asserted here instead of reporting; found by fuzz/box.cpp.
TEST(Document, a_section_name_that_begins_as_no_key_is_refused) {
  EXPECT_THAT(refusal("[{a = b]\n"),
              testing::StartsWith("d.toml:1:1: a section stands in brackets "));
}

// Undefined behaviour in the TOML library; found by fuzz/box.cpp.
TEST(Document, a_letter_beyond_ascii_outside_quotes_is_refused) {
  for (const char* letter : {"\xca\xa4", "\xc3\xa9", "\xe1\x9a\x81", "\xe2\x80\x90"})
    EXPECT_THAT(refusal(fmt::format("a = 1\n{}b = 2\n", letter)),
                testing::StartsWith("d.toml:2:1: is not TOML here: "));
}

TEST(Document, bytes_that_are_not_utf8_are_refused) {
  EXPECT_THAT(refusal("a = \"\xff\"\n"), testing::StartsWith("d.toml:1:"));
  EXPECT_THAT(refusal(std::string("a\0b = 1\n", 8)), testing::StartsWith("d.toml:1:"));
}

}  // namespace
}  // namespace combwright::box
