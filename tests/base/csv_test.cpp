// SPDX-License-Identifier: Apache-2.0
#include "base/csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace combwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;

Rows cells(std::string_view text) {
  Rows rows;
  for (const CsvRow& row : read_csv(text, "t.csv")) rows.push_back(row.cells);
  return rows;
}

std::string refusal(std::string_view text) {
  try {
    read_csv(text, "t.csv");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

// The examples of RFC 4180, section 2.
TEST(Csv, reads_the_examples_of_its_standard) {
  const Rows rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
  EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), rows);
  EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx"), rows);
  EXPECT_EQ(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), rows);
  EXPECT_EQ(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            (Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells("\"aaa\",\"b\"\"bb\",\"ccc\""), (Rows{{"aaa", "b\"bb", "ccc"}}));
}

TEST(Csv, leaves_the_byte_order_mark_blanks_and_empty_lines_aside) {
  EXPECT_EQ(cells("\xEF\xBB\xBF\"a\" , b\n\n \r\n,\n"), (Rows{{"a", "b"}, {"", ""}}));
  EXPECT_EQ(cells(""), Rows{});
}

TEST(Csv, a_row_is_placed_on_its_first_line) {
  const auto rows = read_csv("a,\"1\n2\n3\"\n\nb,4\n", "t.csv");
  EXPECT_EQ(rows[0].place.line, 1U);
  EXPECT_EQ(rows[1].place.line, 5U);
}

TEST(Csv, refuses_what_is_no_table) {
  EXPECT_EQ(refusal("a\n\"b,c\nd\n"),
            "t.csv:2: a quote is opened and not closed; close it, or write two quotes for one");
  EXPECT_EQ(refusal("\"a\"b\n"),
            "t.csv:1: has text behind a quote; close the quote at the end of its cell");
  EXPECT_EQ(refusal("a 3\" bar\n"),
            "t.csv:1: has a quote inside of a cell; put the whole cell in quotes, and write two "
            "quotes for one");
  EXPECT_EQ(refusal(std::string(most_csv_columns - 1, ',')), "");
  EXPECT_EQ(refusal(std::string(most_csv_columns, ',')), "t.csv:1: has over 100 columns");
}

}  // namespace
}  // namespace combwright
