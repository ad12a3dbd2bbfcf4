// SPDX-License-Identifier: Apache-2.0
// What a maker's slips in a box file are told. The rules that they break are those of TOML 1.0.0
// (toml.io): strings stand in quotes, a float has digits on both sides of its point, a key stands
// once, an array ends with a bracket.
#include "box/slip.h"

#include <string>

#include <gtest/gtest.h>

#include "box/document.h"

namespace combwright::box {
namespace {

std::string slip_refusal(const std::string& text) {
  try {
    parse_document(text, "b.toml");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

TEST(Slip, a_quantity_without_quotes_is_shown_with_them) {
  EXPECT_EQ(slip_refusal("[disc]\ndiameter = 182 mm\n"),
            "b.toml:2:12: a number with its unit stands in quotes; write diameter = \"182 mm\"");
  EXPECT_EQ(slip_refusal("a = 1/32 in  # thin\n"),
            "b.toml:1:5: a number with its unit stands in quotes; write a = \"1/32 in\"");
  EXPECT_EQ(slip_refusal("a = 95%\n"),
            "b.toml:1:5: a number with its unit stands in quotes; write a = \"95%\"");
}

TEST(Slip, a_missing_quote_is_named) {
  EXPECT_EQ(slip_refusal("a = \"182 mm\nb = 2\n"),
            "b.toml:1:5: a quote is missing; write a = \"182 mm\"");
  EXPECT_EQ(slip_refusal("a = 182 mm\"\n"),
            "b.toml:1:5: a number with its unit stands in quotes; write a = \"182 mm\"");
  EXPECT_EQ(slip_refusal("a = inner\"\n"), "b.toml:1:5: a quote is missing; write a = \"inner\"");
  EXPECT_EQ(slip_refusal("\"a = 3\n"), "b.toml:1:1: a quote is missing; every text has two");
  EXPECT_EQ(slip_refusal("a = [\"C4\", \"D4]\n"),
            "b.toml:1:5: a quote is missing here; every text has two");
  EXPECT_EQ(slip_refusal("a = [\n  \"C4\",\n  D4\",\n]\n"),
            "b.toml:3:3: a quote is missing here; every text has two");
}

TEST(Slip, quotes_of_a_word_processor_are_refused) {
  EXPECT_EQ(slip_refusal("a = \u201c182 mm\u201d\n"),
            "b.toml:1:1: quotes must be straight ones: \"");
  EXPECT_EQ(slip_refusal("a = [\n \u201eC4\u201d]\n"),
            "b.toml:2:2: quotes must be straight ones: \"");
}

TEST(Slip, a_text_in_three_quotes_must_end) {
  EXPECT_EQ(
      slip_refusal("a = \"\"\"x\nb = 2\n"),
      "b.toml:2:7: a text in three quotes that begins before has no end; close it with three");
}

TEST(Slip, a_word_without_quotes_is_shown_with_them) {
  EXPECT_EQ(slip_refusal("bass = inner\n"),
            "b.toml:1:8: text stands in quotes; write bass = \"inner\"");
}

TEST(Slip, a_list_without_its_end_is_named_where_it_begins) {
  const std::string open = "b.toml:1:9: the list that begins here has no end; close it with ]";
  EXPECT_EQ(slip_refusal("notes = [\"C4\", \"D4\"\npitch = \"2 mm\"\n"), open);
  EXPECT_EQ(slip_refusal("notes = [\"C4\",\n  \"D4\",\n\n[motor]\nx = 1\n"), open);
  EXPECT_EQ(slip_refusal("notes = [\"C4\",\n[[comb]]\nx = 1\n"), open);
  EXPECT_EQ(slip_refusal("notes = [\"C4\",\n  \"D4\"\n"), open);
  EXPECT_EQ(slip_refusal("notes = [\"C4\"  # low ]\n\n"), open);
}

// Found by fuzz/shop.cpp.
TEST(Slip, a_line_of_brackets_alone_is_no_section) {
  EXPECT_FALSE(find_slip("a = [\"3 mm\"\n[[[[[\nb = 1\n", 2));
}

TEST(Slip, a_missing_comma_is_named) {
  EXPECT_EQ(slip_refusal("a = [\"x\" \"y\"]\n"),
            "b.toml:1:5: a comma is missing between two items of a list");
  EXPECT_EQ(slip_refusal("a = [\n  \"x\"\n  \"y\"\n]\n"),
            "b.toml:3:3: a comma is missing between two items of a list");
  EXPECT_EQ(slip_refusal("a = [20 mm, 30 mm]\n"),
            "b.toml:1:5: what stands in a list needs quotes, unless it is a plain number");
}

TEST(Slip, a_missing_equals_sign_is_put_in) {
  EXPECT_EQ(slip_refusal("pitch \"2 mm\"\n"),
            "b.toml:1:1: the = is missing; write pitch = \"2 mm\"");
  EXPECT_EQ(slip_refusal("pitch: 2 mm\n"),
            "b.toml:1:1: a colon stands where = is due; write pitch = \"2 mm\"");
  EXPECT_EQ(slip_refusal("most_plucks 6\n"), "b.toml:1:1: the = is missing; write most_plucks = 6");
  EXPECT_EQ(slip_refusal("disc\n"),
            "b.toml:1:1: \"disc\" has no = and no value; write [disc] if it is a section");
  EXPECT_EQ(slip_refusal("= 3\n"), "b.toml:1:1: the key before the = is missing");
  EXPECT_EQ(slip_refusal("pitch =\n"), "b.toml:1:7: pitch has no value; write one after the =");
  EXPECT_EQ(slip_refusal("inner radius = \"3 mm\"\n"),
            "b.toml:1:1: a key is one word; write inner_radius");
}

TEST(Slip, a_decimal_comma_becomes_a_point) {
  EXPECT_EQ(slip_refusal("turns_used = 8,5\n"),
            "b.toml:1:14: a decimal comma stands here; it must be a point; write turns_used = 8.5");
  EXPECT_EQ(slip_refusal("web = 0,5 mm\n"),
            "b.toml:1:7: a decimal comma stands here; it must be a point; write web = \"0.5 mm\"");
}

TEST(Slip, a_number_has_digits_on_both_sides_of_its_point) {
  EXPECT_EQ(slip_refusal("a = .5\n"),
            "b.toml:1:5: a digit is missing before the point; write a = 0.5");
  EXPECT_EQ(slip_refusal("a = 5.\n"),
            "b.toml:1:5: a digit is missing after the point; write a = 5.0");
  EXPECT_EQ(slip_refusal("a = 1 000\n"),
            "b.toml:1:5: a number is written without blanks; write a = 1000");
  EXPECT_EQ(slip_refusal("a = 3\"\n"), "b.toml:1:5: a unit is missing; write a = \"3 in\"");
}

TEST(Slip, a_section_heading_is_shown_whole) {
  const char* plain =
      "b.toml:1:1: a section stands in brackets on a line of its own; write [motor]";
  for (const char* line : {"[motor\n", "[motor]]\n", "[motor] turn_time = 3\n"})
    EXPECT_EQ(slip_refusal(line), plain);
  EXPECT_EQ(slip_refusal("[[comb]\n"),
            "b.toml:1:1: a section stands in brackets on a line of its own; write [[comb]]");
}

TEST(Slip, what_stands_twice_is_named) {
  const char* twice = ": this key or section stands in the file before; keep one of the two";
  EXPECT_EQ(slip_refusal("a = 1\na = 2\n"), std::string("b.toml:2:5") + twice);
  EXPECT_EQ(slip_refusal("[a]\nx = 1\n[b]\n[a]\n"), std::string("b.toml:4:1") + twice);
}

TEST(Slip, what_follows_a_value_is_refused) {
  EXPECT_EQ(slip_refusal("a = \"3 mm\" or so\n"),
            "b.toml:1:5: only a comment, beginning with #, can follow the closing quote");
  EXPECT_EQ(slip_refusal("a = 3 // three\n"), "b.toml:1:5: a comment begins with #, not with //");
  EXPECT_EQ(slip_refusal("a = \"C:\\music\"\n"),
            "b.toml:1:5: a backslash can't stand in double quotes; write the text in single "
            "quotes");
  EXPECT_EQ(slip_refusal("a = 3 b = 4\n"),
            "b.toml:1:5: two keys stand on one line; begin a new line for the second, or a quote "
            "is missing");
}

TEST(Slip, columns_count_characters_not_bytes) {
  EXPECT_EQ(slip_refusal("\"\u00e9\" = inner\n"),
            "b.toml:1:7: text stands in quotes; write \"\u00e9\" = \"inner\"");
}

TEST(Slip, a_line_without_a_slip_gives_nothing) {
  EXPECT_FALSE(find_slip("a = 3\n", 2));
  EXPECT_FALSE(find_slip("a = 3\n", 1));
  EXPECT_FALSE(find_slip("", 1));
  EXPECT_FALSE(find_slip("a = \"\"\"\nb = c\n", 2));
}

}  // namespace
}  // namespace combwright::box
