// SPDX-License-Identifier: Apache-2.0
#include "draw/plain_text.h"

#include <gtest/gtest.h>

namespace combwright::draw {
namespace {

TEST(PlainText, PutsALabelOnOneLineWithoutControls) {
  EXPECT_EQ(label("  The\r\n\tRose \x01 of\x7f May\n"), "The Rose of May");
}

TEST(PlainText, TurnsBadBytesIntoTheReplacementCharacter) {
  EXPECT_EQ(label("a\xff"
                  "b"),
            "a\xef\xbf\xbd"
            "b");
  EXPECT_EQ(label("a\xe5\xb0"), "a\xef\xbf\xbd\xef\xbf\xbd");
}

TEST(PlainText, TakesOutMarksThatTurnTheDirectionOfWriting) {
  EXPECT_EQ(label("abc\xe2\x80\xae"
                  "def"),
            "abcdef");  // U+202E
}

TEST(PlainText, CutsALongLabelByLettersNotBytes) {
  EXPECT_EQ(label("\xc3\xa4\xc3\xb6\xc3\xbc\xc3\x9f", 3), "\xc3\xa4\xc3\xb6\xe2\x80\xa6");
  EXPECT_EQ(label("\xc3\xa4\xc3\xb6\xc3\xbc", 3), "\xc3\xa4\xc3\xb6\xc3\xbc");
}

TEST(PlainText, StaysValidWhenAHugeNameIsCutInsideALetter) {
  std::string huge(4095, 'x');
  huge += "\xe5\xb0\x8f";
  EXPECT_EQ(code_points(label(huge, 5000)).size(), 4096U);
}

TEST(PlainText, WritesAsciiWithoutAccents) {
  EXPECT_EQ(ascii("F\xc3\xbcr \xc3\x89lise"), "Fur Elise");
  EXPECT_EQ(ascii("\xe5\xb0\x8f\xe5\xa4\x9c"), "??");
}

TEST(PlainText, PrintsTwoHyphensAsADash) {
  EXPECT_EQ(dashed("Hedgerow -- a jig"), "Hedgerow \xe2\x80\x93 a jig");
  EXPECT_EQ(dashed("1890--1910"),
            "1890\xe2\x80\x93"
            "1910");
  EXPECT_EQ(dashed("sing-song --- \xc3\xa4-"), "sing-song --- \xc3\xa4-");
  EXPECT_EQ(dashed("--"), "\xe2\x80\x93");
  EXPECT_EQ(dashed(""), "");
}

}  // namespace
}  // namespace combwright::draw
