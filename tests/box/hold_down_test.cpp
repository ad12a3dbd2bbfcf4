// SPDX-License-Identifier: Apache-2.0
#include "box/hold_down.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "box_text.h"

namespace combwright::box {
namespace {

using testing::DoubleNear;
using testing::ElementsAre;
using testing::IsEmpty;

HoldDownBar bar(const std::string& text) {
  return read_box(text, "b.toml").box.hold_down;
}

auto near_mm(double mm) {
  return DoubleNear(mm * 1e-3, 1e-9);
}

// Tracks at 30, 32 ... 38 mm, projections 1.2 mm long and 1.1 mm wide. The holes of the third track
// end at hypot(34.55, 1.2) = 34.5708 mm, those of the fourth begin at 35.45 mm: 0.879 mm are free.
TEST(HoldDown, the_default_roller_runs_between_the_two_middle_tracks) {
  const HoldDownBar rollers = bar(short_box);
  EXPECT_NEAR(rollers.roller_width_m, 0.0008, 1e-12);
  EXPECT_THAT(
      rollers.roller_radius_m,
      ElementsAre(near_mm(26.0), near_mm(0.5 * (std::hypot(34.55, 1.2) + 35.45)), near_mm(49.6)));
  EXPECT_THAT(read_box(short_box, "b.toml").findings, IsEmpty());
}

TEST(HoldDown, the_default_roller_is_3_mm_wide_at_most) {
  const std::string wide =
      with(with(short_box, "pitch = \"2 mm\"", "pitch = \"5 mm\""), "100 mm", "120 mm");
  EXPECT_NEAR(bar(wide).roller_width_m, 0.003, 1e-12);
  EXPECT_EQ(bar(wide).roller_radius_m.size(), 3U);
}

// Of two tracks' projections less than 0.2 mm apart no roller passes between.
TEST(HoldDown, the_middle_roller_is_left_out_where_none_fits) {
  const HoldDownBar rollers = bar(with(short_box, "width = \"1.1 mm\"", "width = \"1.8 mm\""));
  EXPECT_NEAR(rollers.roller_width_m, 0.003, 1e-12);
  EXPECT_THAT(rollers.roller_radius_m, ElementsAre(near_mm(26.0), near_mm(48.5)));
}

TEST(HoldDown, a_roller_of_the_makers_width_is_left_out_where_it_does_not_fit) {
  const std::string width = "[hold_down]\nroller_width = ";
  // 0.879 mm are free in the middle; inside the tracks 3 to 29.45 mm, outside hypot(38.55, 1.2) =
  // 38.569 to 50 mm.
  EXPECT_EQ(bar(short_box + width + "\"0.87 mm\"\n").roller_radius_m.size(), 3U);
  EXPECT_EQ(bar(short_box + width + "\"0.88 mm\"\n").roller_radius_m.size(), 2U);
  EXPECT_EQ(bar(short_box + width + "\"11.4 mm\"\n").roller_radius_m.size(), 2U);
  EXPECT_EQ(bar(short_box + width + "\"11.5 mm\"\n").roller_radius_m.size(), 1U);
  EXPECT_THAT(bar(short_box + width + "\"26.5 mm\"\n").roller_radius_m, IsEmpty());
}

// Drive holes of 4 mm: the innermost roller would stand at 26 mm.
TEST(HoldDown, default_rollers_stay_clear_of_drive_holes) {
  const auto at = [](const std::string& radius) {
    return bar(with(short_box, "[projection]",
                    "drive_holes = 2\ndrive_hole_radius = \"" + radius + "\"\n[projection]"))
        .roller_radius_m;
  };
  EXPECT_NEAR(at("23 mm")[0], 0.026, 1e-9);
  EXPECT_NEAR(at("24 mm")[0], 0.0264, 1e-9);    // 24 + 2 + 0.4 mm
  EXPECT_NEAR(at("26.9 mm")[0], 0.0245, 1e-9);  // 0.55 mm are left outside them
  EXPECT_NEAR(at("47 mm")[2], 0.0496, 1e-9);
}

TEST(HoldDown, one_track_has_no_middle) {
  const HoldDownBar rollers = bar(with(short_box, "C5 D5 E5 G5*2", "C5"));
  EXPECT_NEAR(rollers.roller_width_m, 0.003, 1e-12);
  EXPECT_EQ(rollers.roller_radius_m.size(), 2U);
}

// The holes of the second track lie from 31.45 to hypot(32.55, 1.2) = 32.5721 mm.
TEST(HoldDown, a_roller_over_holes_is_doubted) {
  const auto doubts = [](const std::string& roller) {
    return read_box(short_box + "[hold_down]\nroller_width = \"0.4 mm\"\nrollers = [\"" + roller +
                        "\"]\n",
                    "b.toml")
        .findings;
  };
  EXPECT_THAT(doubts("31.25 mm"), IsEmpty());
  EXPECT_THAT(doubts("32.78 mm"), IsEmpty());
  const Findings findings = doubts("31.26 mm");
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(to_text(findings[0]),
            "hold_down.rollers: the roller at 31.26 mm, 0.4 mm wide, runs over the holes of track "
            "2; move it to where no holes pass, or make it narrower");
  EXPECT_EQ(findings[0].level, Level::warning);
  EXPECT_EQ(doubts("32.77 mm").size(), 1U);
}

TEST(HoldDown, a_wide_roller_is_doubted_with_all_its_tracks) {
  const Findings findings =
      read_box(short_box + "[hold_down]\nroller_width = \"3 mm\"\nrollers = [\"34 mm\"]\n",
               "b.toml")
          .findings;
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_THAT(findings[0].what, testing::HasSubstr("the holes of tracks 2 to 4"));
}

}  // namespace
}  // namespace combwright::box
