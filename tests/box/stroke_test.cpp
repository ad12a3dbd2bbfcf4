// SPDX-License-Identifier: Apache-2.0
#include "box/stroke.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace combwright::box {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

TEST(Stroke, lines_that_only_strike_may_stand) {
  for (const char* line :
       {"M7", "M10", "G4 P0.1", "G1 Z-2 F100", "g0 z+5", "G0Z5.", "M64 P0 (valve open)",
        "G38.2 Z-3 F60", "G81 Z-2 R1 F100 L1", "G53 G0 Z0", "G21 G90 G94 G17 G40 G80", "G61",
        "(only a comment)", "M3 S800 M8", "G01 Z-.5"})
    EXPECT_THAT(stroke_line_problem(line), IsEmpty()) << line;
}

// NISTIR 6556, tables 3, 5 and 7: what each code does to the position or to the words after it.
TEST(Stroke, words_that_move_the_disc_or_change_what_words_mean_may_not) {
  for (const char* word :
       {"X1",  "A5",  "Y0",    "B1",  "C-3",    "G2 I1",     "G3 J1", "G10 L2 P1 Z0",
        "G18", "G19", "G20",   "G28", "G30",    "G41",       "G42",   "G43 H1",
        "G49", "G54", "G59.3", "G91", "G92 Z0", "G92.1",     "G92.2", "G92.3",
        "G93", "M2",  "M30",   "M6",  "N5 M7",  "G87 Z-1 R1"})
    EXPECT_THAT(stroke_line_problem(word), HasSubstr("a stroke must leave that to the program"))
        << word;
}

TEST(Stroke, no_other_writing_of_such_a_word_slips_through) {
  // Blanks, small letters and leading zeros mean nothing, and a code may be off by 0.0001:
  // NISTIR 6556, 3.3.
  for (const char* line : {"g 9 1", "G091", "G91.", "G+91", "G90.99995", "m 0 2", "M02", "Z1x3",
                           "G0 Z1 (a) X3", "x-.5", "G(a)91"})
    EXPECT_THAT(stroke_line_problem(line), HasSubstr("a stroke must leave that")) << line;
}

TEST(Stroke, what_is_no_word_of_the_standard_may_not_stand) {
  EXPECT_EQ(stroke_line_problem("press"), "has P without a plain number");
  EXPECT_EQ(stroke_line_problem("M7 ; valve"),
            "holds \";VALVE\", which is no word of RS-274; write words as G4 P0.1");
  for (const char* line : {"%", "#5221=1", "/M7", "O100 sub", "U1", "E3", "Z1*2", "$"})
    EXPECT_THAT(stroke_line_problem(line), HasSubstr("which is no word of RS-274")) << line;
  for (const char* line : {"G1 Z#1", "G[90+1]", "Z", "Z-", "Z.", "G1 Z--2", "Zinf", "G4 P"})
    EXPECT_THAT(stroke_line_problem(line), HasSubstr("without a plain number")) << line;
  for (const char* line : {"G28.1", "G5", "G0.5", "G-1", "G1e9", "G99999999999"})
    EXPECT_FALSE(stroke_line_problem(line).empty()) << line;
  for (const char* line : {"M-1", "M7.5", "M1000", "M99999999999999999999"})
    EXPECT_THAT(stroke_line_problem(line), HasSubstr("which is no M word")) << line;
  EXPECT_FALSE(stroke_line_problem("G" + std::string(400, '9')).empty());
  EXPECT_THAT(stroke_line_problem("M7 (open"), HasSubstr("comment without its end"));
  EXPECT_THAT(stroke_line_problem("(a (b))"), HasSubstr("comment inside a comment"));
  EXPECT_THAT(stroke_line_problem("M7 (\xc3\xbc)"), HasSubstr("not ASCII"));
}

// NISTIR 6556, 3.4: one G word of a modal group, one word of every other letter.
TEST(Stroke, a_line_holds_no_word_twice) {
  EXPECT_EQ(stroke_line_problem("G0 G1 Z3"), "has G0 and G1 on one line; write them on two");
  EXPECT_EQ(stroke_line_problem("Z1 Z2"), "has two Z words; write them on two lines");
}

TEST(Stroke, the_lines_leave_the_tool_above_the_sheet) {
  EXPECT_THAT(stroke_end_problem({}), IsEmpty());
  EXPECT_THAT(stroke_end_problem({"M7", "G4 P0.1", "M9"}), IsEmpty());
  EXPECT_THAT(stroke_end_problem({"G1 Z-2 F100", "G0 Z0.1"}), IsEmpty());
  EXPECT_THAT(stroke_end_problem({"G1 Z-2 F100", "G53 G0 Z0"}), IsEmpty());
  EXPECT_THAT(stroke_end_problem({"G81 Z-2 R1 F100"}), IsEmpty());
  EXPECT_EQ(stroke_end_problem({"G81 Z-2 R-1 F100"}),
            "leaves the tool at Z-1, not above the sheet; end it with a line that lifts the tool");
  EXPECT_EQ(
      stroke_end_problem({"G1 Z5 F100", "Z-2.5"}),
      "leaves the tool at Z-2.5, not above the sheet; end it with a line that lifts the tool");
}

}  // namespace
}  // namespace combwright::box
