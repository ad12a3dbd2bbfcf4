// SPDX-License-Identifier: Apache-2.0
#include <sstream>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "action/action.h"
#include "base/error.h"
#include "draw/disc_drawing.h"
#include "draw/dxf.h"
#include "draw/finding_words.h"
#include "draw/made_disc.h"
#include "draw/projection_table.h"
#include "draw/punch_program.h"
#include "draw/roll_lanes.h"
#include "draw/setup.h"
#include "draw/svg.h"
#include "draw/tiling.h"
#include "draw/track_table.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

Drawing one_text(const std::string& text) {
  Drawing drawing{text, {}};
  drawing.items.push_back({Layer::text, Text{{}, 20'000, Anchor::start, text}});
  return drawing;
}

// The string that follows the text height (group 40) in the DXF of one text.
std::string dxf_string(const std::string& text) {
  const auto file = write_dxf(one_text(text));
  const auto at = file.find("40\n2.0000\n1\n") + std::string("40\n2.0000\n1\n").size();
  return file.substr(at, file.find('\n', at) - at);
}

TEST(Dxf, IsR12AsciiOfCodeAndValueLines) {
  const auto made = draw_test::made_disc();
  const auto file = write_dxf(draw_disc(made.box, made.disc));
  EXPECT_THAT(file, HasSubstr("9\n$ACADVER\n1\nAC1009\n"));
  EXPECT_THAT(file, EndsWith("0\nEOF\n"));
  std::istringstream lines(file);
  std::string code;
  std::string value;
  while (std::getline(lines, code)) {
    ASSERT_TRUE(std::getline(lines, value));
    ASSERT_NO_THROW(std::stoi(code)) << code;
    ASSERT_LE(value.size(), 255U);
    for (const char letter : value) ASSERT_TRUE(letter >= 0x20 && letter < 0x7f);
  }
}

TEST(Dxf, WritesLettersBeyondAsciiAsCodePoints) {
  EXPECT_EQ(dxf_string("\xc3\x89lise \xe5\xb0\x8f"), "\\U+00C9lise \\U+5C0F");
  EXPECT_EQ(dxf_string("\xf0\x9f\x8e\xb5"), "?");  // U+1F3B5 has no such form
}

TEST(Dxf, LetsNoTextPassForAControlCode) {
  EXPECT_EQ(dxf_string("50%%d"), "50% %d");
  EXPECT_EQ(dxf_string("a^Jb"), "a^ Jb");
  EXPECT_EQ(dxf_string("\\U+0041"), "\\U+005CU+0041");
  EXPECT_EQ(dxf_string("a\n0\nEOF\n"), "a 0 EOF");
}

TEST(Dxf, CutsALongTextBetweenEscapes) {
  std::string umlauts;
  for (int i = 0; i < 100; ++i) umlauts += "\xc3\xa4";
  const auto text = dxf_string(umlauts);
  EXPECT_EQ(text.size(), 252U);  // 36 escapes of 7 letters
}

TEST(Svg, IsTrueToSizeWithYTurnedUp) {
  Drawing drawing{"edge", {}};
  drawing.items.push_back({Layer::edge, Circle{{}, 1'000'000}});
  drawing.items.push_back({Layer::marks, Line{{0, 0}, {0, 500'000}}});
  const auto file = write_svg(drawing);
  EXPECT_THAT(file, HasSubstr(R"(width="210.0000mm" height="210.0000mm")"));
  EXPECT_THAT(file, HasSubstr(R"(viewBox="-105.0000 -105.0000 210.0000 210.0000")"));
  EXPECT_THAT(file, HasSubstr(R"(y2="-50.0000")"));
  EXPECT_THAT(file, HasSubstr(R"(<g id="EDGE")"));
}

TEST(Svg, SaysThatItIsNotForCuttingTheProjections) {
  EXPECT_THAT(write_svg({"comb", {}}), HasSubstr("<desc>Lengths in millimetres.</desc>"));
  EXPECT_THAT(write_svg({"disc", {{Layer::projections, Polyline{{{0, 0}, {1, 0}, {1, 1}}, true}}}}),
              HasSubstr("<desc>Lengths in millimetres. For screens and for marking: do not cut the "
                        "projections out.</desc>"));
}

TEST(Svg, EscapesMarkup) {
  const auto file = write_svg(one_text("<b>&]]>"));
  EXPECT_THAT(file, HasSubstr(">&lt;b&gt;&amp;]]&gt;</text>"));
  EXPECT_THAT(file, HasSubstr("<title id=\"title\">&lt;b&gt;&amp;]]&gt;</title>"));
}

class PunchProgram : public testing::Test {
 protected:
  draw_test::MadeDisc made_ = draw_test::made_disc({.notes = 3});
  box::Shop shop_;

  std::string program() { return write_punch_program(made_.box, shop_, made_.disc, made_.stamp); }
};

TEST_F(PunchProgram, MovesWithTheToolUpThenStrikes) {
  made_.disc.projections = {{1, 60, 0.05, std::numbers::pi / 2.0, 1.0, 0}};
  shop_.punch.feed_m_s = 0.02;  // 1200 mm/min
  const auto text = program();
  EXPECT_THAT(text, HasSubstr("G21 G90 G94\nG0 Z5.0000\nG0 X203.5000 A0.00000\n(STOP: check "));
  EXPECT_THAT(text, EndsWith(")\nM0\nN1 G0 X50.0000 A90.00000\n"
                             "G1 Z-2.0000 F1200.0000 (hit 1)\nG0 Z5.0000\n"
                             "(End: back to the start, the tool is up)\n"
                             "G0 X203.5000 A0.00000\nM2\n"));
}

TEST_F(PunchProgram, LeavesOutLineNumbersThatTheStandardDoesNotKnow) {
  made_.disc.projections.assign(100'001, {1, 60, 0.05, 0.0, 1.0, 0});
  const auto text = program();
  EXPECT_THAT(text, HasSubstr("\nN99999 G0 X50.0000 A0.00000\n"));
  EXPECT_EQ(text.find("N100000"), std::string::npos);
  EXPECT_THAT(text, HasSubstr("(hit 100001)"));
}

TEST_F(PunchProgram, SaysTheSetUpAndTheCautionAtItsHead) {
  const auto text = program();
  for (const auto* words : {"(Box: Salon 76)\n", "(Tune: Greensleeves)\n", "(Date: 2024-05-17)\n",
                            "(Zero of X: ", "(Side up: ", "(Tool: 2 mm along the track by 1 mm",
                            "(CAUTION: The punch closes with about 1080 N"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
  EXPECT_THAT(text, HasSubstr(made_.stamp.checksum));
}

TEST_F(PunchProgram, LetsNoNameEndItsCommentOrBeginAnother) {
  made_.disc.title = "M2)\nG0 Z-9 (MSG, ; %";
  EXPECT_THAT(program(), HasSubstr("\n(Tune: M2 G0 Z-9 MSG, , )\n"));
}

TEST_F(PunchProgram, KeepsItsLinesWithinTheStandardsLength) {
  made_.disc.title = made_.box.name = std::string(1000, 'x');
  std::istringstream lines(program());
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), longest_program_line);
}

TEST_F(PunchProgram, UsesTheShopsOwnLinesForAHit) {
  shop_.punch.hit = {"M10", "G4 P0.1", "M11"};
  const std::string text = program();
  std::size_t hits = 0;
  for (std::size_t at = text.find("M10\nG4 P0.1\nM11\n"); at != std::string::npos;
       at = text.find("M10\nG4 P0.1\nM11\n", at + 1))
    ++hits;
  EXPECT_EQ(hits, made_.disc.projections.size());
  EXPECT_EQ(text.find("G1 Z"), std::string::npos);
  EXPECT_EQ(text.find("G0 Z"), text.rfind("G0 Z")) << "only before the first move";
  EXPECT_THAT(text, HasSubstr("G21 G90 G94\nG0 Z5.0000\nG0 X203.5000 A0.00000\n"));
  EXPECT_THAT(text, HasSubstr("(Zero of Z: the top of the sheet, the tool is lifted to 5 mm before "
                              "the first move, then the shop's own lines strike"));
}

TEST(ProjectionTable, IsCommaSeparatedWithCrLf) {
  auto made = draw_test::made_disc();
  made.disc.projections = {{7, 66, 0.05, 1.5 * std::numbers::pi, 12.5, 0}};
  EXPECT_EQ(write_projection_table(made.disc),
            "hit,track,note,radius_mm,angle_deg,time_s\r\n"
            "1,7,F#4,50.0000,270.00000,12.500000\r\n");
}

// The line of a track without what `action` says of it.
std::vector<std::string> played_columns(const std::string& table) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < table.size();) {
    const auto end = table.find("\r\n", at);
    const auto line = table.substr(at, end - at);
    lines.push_back(line.substr(0, line.rfind(',', line.rfind(',') - 1)));
    at = end + 2;
  }
  return lines;
}

TEST(TrackTable, FindsTheClosestPlucksOfATrack) {
  arrange::Arrangement arrangement;
  arrangement.turn_time_s = 66.0;
  arrangement.tracks = {{1, 60, 0.05, 0.8}, {2, 62, 0.052, 0.79}};
  arrangement.plucks = {{1.0, 1, 0}, {2.0, 1, 1}, {2.1, 2, 2}, {2.9, 1, 3}};
  EXPECT_THAT(
      played_columns(write_track_table(draw_test::made_box({}), arrangement)),
      testing::ElementsAre("track,note,duplicate,radius_mm,plucks,min_interval_s,closest_s",
                           "1,C4,,50.0000,3,0.800000,0.900000", "2,D4,,52.0000,1,0.790000,"));
}

TEST(TrackTable, MarksTheDuplicatesOfANote) {
  arrange::Arrangement arrangement;
  arrangement.turn_time_s = 66.0;
  arrangement.tracks = {{1, 60, 0.05, 0.8}, {2, 63, 0.052, 0.8}, {3, 60, 0.054, 0.8}};
  EXPECT_THAT(played_columns(write_track_table(draw_test::made_box({}), arrangement)),
              testing::ElementsAre("track,note,duplicate,radius_mm,plucks,min_interval_s,closest_s",
                                   "1,C4,1 of 2,50.0000,0,0.800000,", "2,Eb4,,52.0000,0,0.800000,",
                                   "3,C4,2 of 2,54.0000,0,0.800000,"));
}

// The gap depends on the speed: it must be that of the arrangement's turn, not of the box's motor.
TEST(TrackTable, TellsLiftAndGapOfTheTurnThatIsArranged) {
  auto made = draw_test::made_disc({.notes = 10});
  made.box.motor.turn_time_s = 20.0;
  made.arrangement.turn_time_s = 70.0;
  made.box.damper.lead_time_s = 0.04;
  const auto actions = action::action(made.box, 70.0);
  const auto table = write_track_table(made.box, made.arrangement);
  EXPECT_THAT(table, testing::StartsWith("track,note,duplicate,radius_mm,plucks,min_interval_s,"
                                         "closest_s,lift_mm,gap_mm\r\n"));
  ASSERT_NE(actions.back().gap_m, action::action(made.box, 20.0).back().gap_m);
  EXPECT_THAT(table,
              testing::EndsWith(fmt::format(",{:.4f},{:.4f}\r\n", actions.back().lift_m * 1e3,
                                            actions.back().gap_m * 1e3)));
}

TEST(Words, NamesTranspositionsAsMusiciansDo) {
  EXPECT_EQ(transposition_words(0), "not transposed");
  EXPECT_EQ(transposition_words(3), "+3 semitones, up a minor third");
  EXPECT_EQ(transposition_words(-7), "-7 semitones, down a fifth");
  EXPECT_EQ(transposition_words(-12), "-12 semitones, down an octave");
  EXPECT_EQ(transposition_words(29), "+29 semitones, up 2 octaves and a fourth");
}

TEST(FindingWords, PutTheGravestFirstAndCountThem) {
  const Findings findings{
      {Level::note, "a", "", ""}, {Level::warning, "b", "", ""}, {Level::note, "c", "", ""}};
  const auto sorted = gravest_first(findings);
  EXPECT_EQ(sorted[0].where + sorted[1].where + sorted[2].where, "bac");
  EXPECT_EQ(finding_counts(findings), "1 warning, 2 notes");
  EXPECT_EQ(finding_counts({{Level::fault, "", "", ""}}), "1 fault");
  EXPECT_EQ(finding_counts({}), "none");
}

TEST(RollLanes, GivesEveryToothALaneAndShowsANoteWhereItSoundsAndIsWritten) {
  arrange::Arrangement arrangement;
  arrangement.tracks = {{1, 60, 0.05, 0.8}, {2, 60, 0.052, 0.8}, {3, 62, 0.054, 0.8}};
  arrangement.transpose_semitones = 2;
  arrange::ArrangedNote note;
  note.onset_s = 4.0;
  note.midi = 72;  // D5 after the transposition: no tooth, played as D4
  note.fate = arrange::Fate::octave;
  arrangement.notes = {note};
  arrangement.plucks = {{4.02, 3, 0}};
  const RollLanes roll(arrangement);
  const auto& lanes = roll.lanes();
  ASSERT_EQ(lanes.size(), 16U);  // C4, its duplicate, and one for each semitone up to D5
  EXPECT_TRUE(lanes[1].has_tooth && lanes[1].is_duplicate && lanes[1].midi == 60);
  EXPECT_TRUE(!lanes[2].has_tooth && lanes[2].midi == 61);
  const auto place = roll.place(note);
  EXPECT_EQ(lanes.at(place.lane).midi, 62);
  EXPECT_EQ(lanes.at(place.written).midi, 74);
  EXPECT_EQ(place.time_s, 4.02);
}

TEST(RollLanes, TellsTheTeethOfOneNoteApart) {
  arrange::Arrangement arrangement;
  arrangement.tracks = {{1, 60, 0.05, 0.8}, {2, 60, 0.052, 0.8}};
  arrangement.notes.resize(2);
  for (int i = 0; i < 2; ++i) {
    arrangement.notes[static_cast<std::size_t>(i)].index = i;
    arrangement.notes[static_cast<std::size_t>(i)].midi = 60;
  }
  arrangement.plucks = {{1.0, 1, 0}, {2.0, 2, 1}};
  const RollLanes roll(arrangement);
  EXPECT_EQ(roll.place(arrangement.notes[0]).lane, 0U);
  EXPECT_EQ(roll.place(arrangement.notes[1]).lane, 1U);
  EXPECT_EQ(roll.place(arrangement.notes[1]).written, 0U);
}

TEST(Words, SaysTempoAgainstTheWrittenOne) {
  EXPECT_EQ(tempo_words(1.0), "as written");
  EXPECT_EQ(tempo_words(1.08), "8 % faster");
  EXPECT_EQ(tempo_words(0.925), "7.5 % slower");
}

TEST(Words, SaysTimesOfWorkInMinutes) {
  EXPECT_EQ(duration_words(59.4), "59 s");
  EXPECT_EQ(duration_words(59.6), "1 min 0 s");
  EXPECT_EQ(duration_words(7260.0), "2 h 1 min");
}

TEST(Tiling, CoversEveryPointOfTheDrawingWithTheOverlapShared) {
  Drawing drawing{"edge", {}};
  drawing.items.push_back({Layer::edge, Circle{{}, 3'000'000}});
  const auto tiling = tile(drawing, {});
  for (int degree = 0; degree < 360; ++degree) {
    const auto at = polar(0.3, degree * std::numbers::pi / 180.0);
    const auto holds = [at](const Tile& tile) { return Box2{at, at}.overlaps(tile.window); };
    EXPECT_TRUE(std::any_of(tiling.tiles.begin(), tiling.tiles.end(), holds)) << degree;
  }
  const auto& tiles = tiling.tiles;
  EXPECT_EQ(tiles[0].window.high.x - tiles[1].window.low.x, 100'000);
}

TEST(Tiling, KeepsEveryHoleWithinASheetIfNoneHoldsThemAll) {
  Drawing drawing{"disc", {}};
  drawing.add(Layer::edge, Circle{{}, 1'980'000});
  // The clear middle of a sheet of A4 is 162 mm wide; evenly laid, the seams lie over both.
  for (const std::int64_t x : {0, 800'000, -800'000})
    drawing.add(Layer::holes, Circle{{x, 0}, 20'000});
  const auto tiling = tile(drawing, {});
  for (const std::int64_t x : {0, 800'000, -800'000}) {
    const Box2 hole{{x - 20'000, -20'000}, {x + 20'000, 20'000}};
    EXPECT_EQ(std::count_if(tiling.tiles.begin(), tiling.tiles.end(),
                            [&](const Tile& tile) { return hole.overlaps(tile.window); }),
              1)
        << x;
  }
}

TEST(Tiling, KeepsTheHolesWithinOneSheetIfTheSheetsCanBeShifted) {
  Drawing drawing{"disc", {}};
  drawing.add(Layer::edge, Circle{{}, 1'980'000});
  drawing.add(Layer::holes, Circle{{}, 47'500});
  drawing.add(Layer::holes, Circle{{180'000, 0}, 20'000});
  const auto shows = [](const Point& at) {
    return [at](const Tile& tile) { return Box2{at, at}.overlaps(tile.window); };
  };
  const auto tiling = tile(drawing, {});
  EXPECT_EQ(tiling.rows, 2);  // evenly laid, the centre would lie on their seam
  for (const Point at : {Point{0, 0}, {200'000, 0}, {-47'500, 0}, {0, 47'500}, {0, -47'500}}) {
    EXPECT_EQ(std::count_if(tiling.tiles.begin(), tiling.tiles.end(), shows(at)), 1);
  }
  for (int degree = 0; degree < 360; ++degree) {
    const auto at = polar(0.198, degree * std::numbers::pi / 180.0);
    EXPECT_TRUE(std::any_of(tiling.tiles.begin(), tiling.tiles.end(), shows(at))) << degree;
  }
}

TEST(Tiling, PutsRegisterMarksOnlyWhereSheetsMeet) {
  Drawing drawing{"edge", {}};
  drawing.add(Layer::edge, Circle{{}, 2'000'000});
  const auto tiling = tile(drawing, {});
  EXPECT_FALSE(tiling.register_at.empty());
  for (const auto& at : tiling.register_at) {
    const auto shows = [at](const Tile& each) { return Box2{at, at}.overlaps(each.window); };
    EXPECT_GE(std::count_if(tiling.tiles.begin(), tiling.tiles.end(), shows), 2);
  }
  EXPECT_TRUE(tile({"dot", {{Layer::axes, Dot{}}}}, {}).register_at.empty());
}

TEST(Tiling, LeavesOutSheetsWithNothingOnThem) {
  Drawing drawing{"edge", {}};
  drawing.items.push_back({Layer::edge, Circle{{}, 3'000'000}});
  const auto tiling = tile(drawing, {});
  // A ring of 600 mm on A4 upright is 4 columns by 3 rows; its middle two sheets stay empty.
  EXPECT_EQ(tiling.columns, 4);
  EXPECT_EQ(tiling.rows, 3);
  EXPECT_EQ(tiling.tiles.size(), 10U);
}

TEST(Tiling, RefusesPaperWithoutRoomForTheCheckBar) {
  const box::Paper paper{"card", 0.1, 0.15, 0.01};
  EXPECT_THROW(tile({}, paper), Error);
}

}  // namespace
}  // namespace combwright::draw
