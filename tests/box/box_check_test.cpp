// SPDX-License-Identifier: Apache-2.0
#include "box/box_check.h"

#include <numbers>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "box_text.h"

namespace combwright::box {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Findings doubts(const std::string& text) {
  return read_box(text, "b.toml").findings;
}

TEST(BoxCheck, the_short_box_is_sound) {
  EXPECT_EQ(refusal(short_box), "");
  EXPECT_THAT(doubts(short_box), IsEmpty());
}

TEST(BoxCheck, every_track_needs_its_note) {
  EXPECT_EQ(refusal(with(short_box, "[tracks]", "[tracks]\ncount = 6")),
            "b.toml:21:10: scale.notes has 5 notes for 6 tracks; give one for each track (5 on "
            "line 21)");
}

TEST(BoxCheck, a_wrong_count_of_notes_is_told_line_by_line) {
  const std::string three_lines =
      with(with(short_box, R"(["C5 D5 E5 G5*2"])", "[\n\"C5 D5\",\n\"E5\", \"G5*2\",\n\"A5\"]"),
           "[tracks]", "[tracks]\ncount = 4");
  EXPECT_EQ(refusal(three_lines),
            "b.toml:23:7: scale.notes has 6 notes for 4 tracks; give one for each track (2 on line "
            "22, 3 on line 23, 1 on line 24)");
  EXPECT_EQ(refusal(with(three_lines, "count = 4", "count = 5")).substr(0, 12), "b.toml:24:1:");
}

TEST(BoxCheck, the_scale_rises) {
  EXPECT_EQ(refusal(with(short_box, "C5 D5", "D5 C5")),
            "b.toml:20:10: scale.notes has C5 after D5; write them from low to high");
}

// Outermost track at 30 + 4 * 2 = 38 mm, half of 1.1 mm more, 3 mm margin: 41.55 mm.
TEST(BoxCheck, the_outermost_track_and_its_margin_fit_on_the_disc) {
  // The far corner of a straight projection lies furthest out: 2 (sqrt(38.55^2 + 1.2^2) + 3) mm.
  EXPECT_EQ(refusal(with(short_box, "100 mm", "83.14 mm")), "");
  EXPECT_EQ(refusal(with(short_box, "100 mm", "83.1 mm")),
            "b.toml:3:12: disc.diameter is 83.1 mm; the outermost track with its margin needs "
            "83.14 mm");
}

TEST(BoxCheck, the_centre_hole_stays_inside_the_tracks) {
  EXPECT_EQ(refusal(with(short_box, "\"6 mm\"", "\"58 mm\"")),
            "b.toml:4:24: disc.centre_hole_diameter is 58 mm; the innermost track leaves room for "
            "at most 57.9 mm");
}

// Two holes of 4 mm; webs of 0.5 mm; tracks from 29.45 to 38.55 mm, so 26.95 mm and 41.05 mm are
// the limits beside them; 3 + 0.5 + 2 mm from the centre hole; 50 - 2.5 mm from the edge.
TEST(BoxCheck, drive_holes_stay_clear_of_tracks_centre_hole_and_edge) {
  const auto at = [](const std::string& radius) {
    return refusal(with(short_box, "[projection]",
                        "drive_holes = 2\ndrive_hole_radius = \"" + radius + "\"\n[projection]"));
  };
  EXPECT_EQ(at("26.9 mm"), "");
  EXPECT_EQ(at("27 mm"),
            "b.toml:6:21: disc.drive_hole_radius is 27 mm: the holes cut into the "
            "tracks; inside them it can be at most 26.95 mm");
  EXPECT_EQ(at("41 mm").substr(0, 12), "b.toml:6:21:");
  EXPECT_EQ(at("41.1 mm"), "");
  EXPECT_EQ(at("5.4 mm"),
            "b.toml:6:21: disc.drive_hole_radius is 5.4 mm: the holes cut into the "
            "centre hole; it must be at least 5.5 mm");
  EXPECT_EQ(at("48 mm"),
            "b.toml:6:21: disc.drive_hole_radius is 48 mm: the holes cut into the "
            "edge; it can be at most 47.5 mm");
}

TEST(BoxCheck, drive_holes_stay_clear_of_each_other) {
  EXPECT_EQ(refusal(with(short_box, "[projection]",
                         "drive_holes = 20\ndrive_hole_radius = \"10 mm\"\n[projection]")),
            "b.toml:5:15: disc.drive_holes is 20: the holes stand 3.129 mm apart, middle to "
            "middle; they need 4.5 mm");
}

// From point to point 2 pi 2.55 / 8 = 2.003 mm; on 30 mm radius 3.825 deg.
TEST(BoxCheck, the_start_gap_lets_the_innermost_tooth_be_plucked_again) {
  EXPECT_EQ(refusal(with(short_box, "[projection]", "start_gap = \"3.8 deg\"\n[projection]")),
            "b.toml:5:13: disc.start_gap is 3.8 deg: a tooth of the innermost track could not be "
            "plucked at the end of a turn and again at its start; it needs 3.825 deg");
}

TEST(BoxCheck, the_plain_disc_clears_the_star_wheels) {
  EXPECT_EQ(refusal(with(short_box, "3.05 mm", "2.5 mm")),
            "b.toml:14:19: star_wheel.axis_below_disc is 2.5 mm: the points rub on the plain "
            "disc; it must be more than the tip radius, 2.55 mm");
}

// Points rounded by 0.05 mm: 3.05 - 0.05 - 2.5 cos(180 deg / 8) = 0.6903 mm.
TEST(BoxCheck, a_projection_turns_its_star_wheel_by_a_whole_point) {
  EXPECT_EQ(refusal(with(short_box, "0.9 mm", "0.7 mm")), "");
  EXPECT_EQ(refusal(with(short_box, "0.9 mm", "0.69 mm")),
            "b.toml:8:10: projection.height is 0.69 mm: it lets go of the star wheel before it has "
            "turned by one point; it must be at least 0.6903 mm");
  EXPECT_EQ(refusal(with(short_box, "0.9 mm", "3.1 mm")),
            "b.toml:8:10: projection.height is 3.1 mm: it reaches the axis of the star wheel; it "
            "must be less than 3.05 mm");
}

// Flanks of 8 deg lie 2.5 sin 8 deg + 0.05 = 0.3979 mm beside the axis; both points leaning by half
// a pitch, 2 (2.15 tan 30.5 deg - 0.3979 / cos 30.5 deg) = 1.609 mm. Between thin ones there are
// 2 (3.05 - 0.9) tan(180 deg / 8) = 1.781 mm. 3.05 - 0.05 - 2.5 cos(360 deg / 8) = 1.232 mm.
TEST(BoxCheck, a_projection_fits_between_two_points) {
  EXPECT_EQ(refusal(with(short_box, "1.2 mm", "1.6 mm")), "");
  EXPECT_EQ(refusal(with(short_box, "1.2 mm", "1.62 mm")),
            "b.toml:6:10: projection.length is 1.62 mm: it is longer than the room between two "
            "points of the star wheel and jams; at most 1.609 mm");
  const std::string thin =
      with(short_box, "[star_wheel]", "[star_wheel]\ntip_rounding = \"0 mm\"\nflank = \"0 deg\"");
  EXPECT_EQ(refusal(with(thin, "1.2 mm", "1.78 mm")), "");
  EXPECT_EQ(refusal(with(thin, "1.2 mm", "1.8 mm")),
            "b.toml:6:10: projection.length is 1.8 mm: it is longer than the room between two "
            "points of the star wheel and jams; at most 1.781 mm");
  EXPECT_EQ(refusal(with(short_box, "0.9 mm", "1.25 mm")),
            "b.toml:8:10: projection.height is 1.25 mm: it turns the star wheel by two points at "
            "once; it must be less than 1.232 mm, or the wheel have fewer points");
}

TEST(BoxCheck, a_tooth_reaches_only_the_tips_of_the_points) {
  EXPECT_EQ(refusal(with(short_box, "0.06 mm", "1.3 mm")),
            "b.toml:15:17: star_wheel.tooth_overlap is 1.3 mm; it must be less than half of the "
            "tip radius, 1.275 mm");
}

// Flanks of 40 deg meet (2.5 sin 40 deg + 0.05) / sin 62.5 deg = 1.868 mm from the axis.
TEST(BoxCheck, points_leave_room_for_the_projections) {
  const auto flank = [](const std::string& height) {
    return with(with(short_box, "[star_wheel]", "[star_wheel]\nflank = \"40 deg\""), "0.9 mm",
                height);
  };
  EXPECT_EQ(refusal(flank("1.19 mm")),
            "b.toml:13:9: star_wheel.flank is 40 deg: points so stout meet 1.868 mm from the axis, "
            "where the projections pass at 1.86 mm; make them slimmer");
  EXPECT_EQ(refusal(with(short_box, "[star_wheel]", "[star_wheel]\ntip_rounding = \"1.3 mm\"")),
            "b.toml:13:16: star_wheel.tip_rounding is 1.3 mm; it must be less than half of the tip "
            "radius, 2.55 mm");
}

// sqrt(2.55^2 - 2.49^2) = 0.5499 mm.
TEST(BoxCheck, combs_lie_where_the_points_reach_them) {
  EXPECT_EQ(refusal(with(short_box, "[[comb]]", "[[comb]]\nlevel = \"0.54 mm\"")), "");
  EXPECT_EQ(refusal(with(short_box, "[[comb]]", "[[comb]]\nlevel = \"-0.56 mm\"")),
            "b.toml:17:9: comb.level is -0.56 mm: the points don't reach the teeth there; either "
            "way less than 0.5499 mm would do");
  const std::string two =
      short_box + "[[comb]]\nlongest_tooth = \"40 mm\"\nshortest_tooth = \"20 mm\"\n";
  EXPECT_EQ(refusal(two), "");
  EXPECT_THAT(refusal(two + "plucked = \"down\"\n"),
              testing::HasSubstr("comb.plucked is down for both combs; they lie on either side"));
}

TEST(BoxCheck, star_wheels_stand_side_by_side) {
  const std::string wheel = with(short_box, "[star_wheel]", "[star_wheel]\nthickness = \"2 mm\"");
  EXPECT_EQ(refusal(wheel),
            "b.toml:13:13: star_wheel.thickness is 2 mm; wheels side by side have 2 mm each, the "
            "pitch of the tracks");
}

TEST(BoxCheck, corners_of_a_projection_fit_into_it) {
  const auto corner = [](const std::string& radius) {
    return refusal(with(short_box, "[projection]", "[projection]\ncorner = \"" + radius + "\""));
  };
  EXPECT_THAT(corner("2 mm"), testing::HasSubstr("projection.corner is 2 mm; a projection "));
  EXPECT_EQ(corner("0.3 mm"), "");
}

TEST(BoxCheck, the_damper_is_taken_along_before_the_tip_slips_off_it) {
  const std::string damper = short_box + "[damper]\nreach = \"0.8 mm\"\n";
  EXPECT_EQ(refusal(damper + "stands = \"0.79 mm\"\n"), "");
  EXPECT_EQ(refusal(damper + "stands = \"0.8 mm\"\n"),
            "b.toml:26:10: damper.stands is 0.8 mm; it must be less than damper.reach, 0.8 mm, or "
            "the tip never takes the damper along");
}

TEST(BoxCheck, teeth_and_gaps_keep_the_pitch_of_the_tracks) {
  EXPECT_EQ(refusal(with(short_box, "[[comb]]", "[[comb]]\ntooth_width = \"1.7 mm\"")),
            "b.toml:17:15: a tooth and its gap are 2.1 mm wide; they must be as wide as the pitch "
            "of the tracks, 2 mm");
}

TEST(BoxCheck, the_longest_tooth_is_the_longest) {
  EXPECT_EQ(refusal(with(short_box, "40 mm", "19 mm")),
            "b.toml:17:17: comb.longest_tooth is 19 mm; it can't be shorter than shortest_tooth, "
            "20 mm");
}

TEST(BoxCheck, the_spring_fits_into_its_barrel) {
  EXPECT_EQ(refusal(short_box + "[spring]\narbor_radius = \"50 mm\"\nstrip_length = \"1 m\"\n"),
            "b.toml:25:16: spring.arbor_radius is 50 mm; it must be less than barrel_radius, "
            "46 mm");
  EXPECT_EQ(refusal(short_box + "[spring]\nstrip_length = \"12.4 m\"\n"),
            "b.toml:25:16: spring.strip_length is 12.4 m; the barrel holds less than 12.31 m, and "
            "half of that gives most turns");
}

// The area rule of barrel springs gives 17.82 turns for 6.1 m of 0.5 mm strip between 12.5 mm and
// 46 mm (Theory of Horology, 4.2.5), half a turn more than the strip has: the length of its middle
// line, wound at r = 12.5 mm + h/2 + h t / (2 pi), is summed up here step by step, and likewise run
// down, to 41.83 - 24.50 = 17.33.
double coils_by_sum(double first_radius_m, double growth_m, double length_m) {
  constexpr double step_rad = 1e-4;
  double angle_rad = 0.0;
  for (double length = 0.0; length < length_m; angle_rad += step_rad)
    length += step_rad * (first_radius_m + growth_m * angle_rad / (2.0 * std::numbers::pi));
  return angle_rad / (2.0 * std::numbers::pi);
}

TEST(BoxCheck, the_motor_uses_no_more_turns_than_the_spring_has) {
  EXPECT_NEAR(coils_by_sum(0.01275, 0.0005, 6.1) - coils_by_sum(0.04575, -0.0005, 6.1), 17.331,
              0.001);
  const std::string spring = short_box + "[spring]\nstrip_length = \"6.1 m\"\nturns_used = ";
  EXPECT_EQ(refusal(spring + "17.33\n"), "");
  EXPECT_EQ(refusal(spring + "17.34\n"),
            "b.toml:26:14: spring.turns_used is 17.34; 6.1 m of this strip in this barrel give at "
            "most 17.33 turns; 6.157 m would give most");
}

TEST(BoxCheck, every_wheel_drives_a_pinion) {
  EXPECT_EQ(refusal(short_box + "[train]\nwheels = [96, 80]\n"),
            "b.toml:24:1: train has 2 wheels and 3 pinions; every wheel drives one pinion");
  EXPECT_EQ(refusal(short_box + "[train]\nwheels = []\npinions = []\n"),
            "b.toml:25:10: train has 0 wheels; give 1 to 8");
}

TEST(BoxCheck, a_vane_ends_farther_out_than_it_begins) {
  EXPECT_EQ(refusal(short_box + "[governor]\nvane_inner_radius = \"20 mm\"\n"),
            "b.toml:25:21: governor.vane_inner_radius is 20 mm; it must be less than "
            "vane_outer_radius, 20 mm");
}

TEST(BoxCheck, rollers_run_on_the_disc) {
  EXPECT_EQ(refusal(short_box + "[hold_down]\nroller_width = \"3 mm\"\nrollers = [\"49 mm\"]\n"),
            "b.toml:26:11: hold_down.rollers has one at 49 mm that does not run on the disc; they "
            "can stand from 4.5 mm to 48.5 mm");
}

TEST(BoxCheck, lines_are_six_shares) {
  const auto with_lines = [](const std::string& shares) {
    std::string box = short_box;
    const std::string comb = "[[comb]]";
    return box.insert(box.find(comb) + comb.size(), "\nlines = [" + shares + "]");
  };
  const std::string five = R"("0 %", "3 %", "2.5 %", "2 %", "50 %")";
  EXPECT_THAT(doubts(with_lines(five + R"(, "100 %")")), IsEmpty());
  EXPECT_THAT(refusal(with_lines(five)),
              HasSubstr("comb.lines has 5 shares; it must have 6, as comb prints them"));
  EXPECT_THAT(refusal(with_lines(five + R"(, "0 %")")), HasSubstr("in place 6"));
}

TEST(BoxCheck, a_web_thinner_than_the_sheet_is_doubted) {
  EXPECT_THAT(doubts(with(short_box, "[tracks]", "web = \"0.4 mm\"\n[tracks]")),
              ElementsAre(testing::Field(&Finding::what,
                                         "the web of 0.4 mm is less than the sheet's thickness of "
                                         "0.5 mm")));
}

TEST(BoxCheck, projections_that_bind_across_tracks_are_doubted) {
  EXPECT_THAT(
      doubts(with(short_box, "1.1 mm", "1.6 mm")),
      ElementsAre(testing::Field(&Finding::what,
                                 "between projections on neighbouring tracks 0.4 mm are left, not "
                                 "the web of 0.5 mm")));
}

TEST(BoxCheck, projections_that_overlap_across_tracks_are_told_by_how_much) {
  EXPECT_THAT(doubts(with(short_box, "1.1 mm", "2.1 mm")),
              ElementsAre(testing::Field(&Finding::what,
                                         "projections on neighbouring tracks overlap by 0.1 mm")));
}

TEST(BoxCheck, a_diameter_where_a_radius_is_due_is_told_so) {
  EXPECT_EQ(refusal(with(short_box, "tip_radius", "tip_diameter")),
            "b.toml:13:1: [star_wheel] has no key \"tip_diameter\"; did you mean \"tip_radius\", "
            "half of the diameter?");
}

TEST(BoxCheck, a_comment_of_two_strokes_is_told_in_plain_words) {
  EXPECT_EQ(refusal("// my box\n" + short_box), "b.toml:1:1: a comment begins with #, not with //");
}

TEST(BoxCheck, a_shop_file_is_not_taken_for_a_box) {
  EXPECT_EQ(refusal("[punch]\n"),
            "b.toml:1:1: [punch] stands in a shop file: this is a shop file; give a box file here");
}

TEST(BoxCheck, a_punch_below_a_millimetre_is_doubted) {
  EXPECT_THAT(
      doubts(with(short_box, "1.1 mm", "0.9 mm")),
      ElementsAre(testing::Field(&Finding::what,
                                 "its smaller side is only 0.9 mm; a punch narrower than 1 mm "
                                 "breaks early")));
}

// The outermost track runs at 2 pi 38 / 30 = 7.96 mm/s: 2.003 mm take 252 ms.
// 3 times the sheet's 0.5 mm (common practice, no source).
TEST(BoxCheck, a_projection_that_stands_out_too_far_for_its_sheet_is_doubted) {
  const auto high = [](const std::string& height) {
    std::string text = with(short_box, "\"0.9 mm\"", "\"" + height + "\"");
    text = with(text, "[projection]", "start_gap = \"10 deg\"\n[projection]");
    return doubts(with(with(text, "\"2.55 mm\"", "\"5 mm\""), "\"3.05 mm\"", "\"5.5 mm\""));
  };
  EXPECT_THAT(high("1.5 mm"), IsEmpty());
  const Findings findings = high("1.6 mm");
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].level, Level::warning);
  EXPECT_EQ(to_text(findings[0]),
            "projection.height: 1.6 mm is 3.2 times the sheet's thickness of 0.5 mm; a projection "
            "that stands out by more than 3 times tears easily; take sheet of 0.54 mm at least or "
            "lower projections, and try it on scrap");
}

TEST(BoxCheck, a_damper_slower_than_the_outermost_track_is_doubted) {
  EXPECT_THAT(doubts(short_box + "[damper]\nlead_time = \"251 ms\"\n"), IsEmpty());
  EXPECT_THAT(
      doubts(short_box + "[damper]\nlead_time = \"253 ms\"\n"),
      ElementsAre(testing::Field(&Finding::what,
                                 "the damper touches 253 ms before the pluck, but the outermost "
                                 "track could be plucked every 251.6 ms")));
}

TEST(BoxCheck, a_soundboard_larger_than_the_cabinet_is_doubted) {
  EXPECT_THAT(
      doubts(short_box + "[soundboard]\nlength = \"1 m\"\n"),
      ElementsAre(testing::Field(&Finding::what,
                                 "the soundboard, 1000 mm along the grain and 105 mm across, is "
                                 "larger than the cabinet inside, 110 mm and 115 mm")));
}

}  // namespace
}  // namespace combwright::box
