// SPDX-License-Identifier: Apache-2.0
#include "box/comb_doubts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "box_text.h"

namespace combwright::box {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

Findings comb_doubts(const std::string& text) {
  return read_box(text, "b.toml").findings;
}

// Young's modulus 205 GPa, 7850 kg/m3. A steel cantilever 30 mm long and 1 mm thick sounds at
// 917.233 Hz (1.8751, Blevins, Formulas for Natural Frequency and Mode Shape); lifted by 0.6 mm at
// its tip, the strain is 6 F L / (b h^2 E) with F = 3 E I d / L^3, that is 1.000e-3.
TEST(RootStrain, is_that_of_a_cantilever_of_the_pitch) {
  Box box;
  box.steel = {.modulus_pa = 205e9, .density_kg_m3 = 7850.0};
  Comb comb;
  comb.plate_thickness_m = 0.002;
  EXPECT_NEAR(root_strain(box, comb, 917.233385, 0.030, 0.0006), 1.000e-3, 1e-9);
  // As thick as the plate and no thicker: half of that plate, half of the strain.
  comb.plate_thickness_m = 0.0005;
  EXPECT_NEAR(root_strain(box, comb, 917.233385, 0.030, 0.0006), 0.500e-3, 1e-9);
}

// Star wheels of 5 points, 5 mm to the tip.
std::string high_lift(const std::string& overlap, const std::string& notes) {
  std::string text = with(short_box, "\"2.55 mm\"", "\"5 mm\"");
  text = with(text, "\"3.05 mm\"", "\"5.5 mm\"");
  text = with(text, "[projection]", "start_gap = \"15 deg\"\n[projection]");
  text = with(text, "tip_radius", "points = 5\ntip_radius");
  text = with(text, "height = \"0.9 mm\"", "height = \"1.5 mm\"");
  text = with(text, "C5 D5 E5 G5*2", notes);
  return with(text, "\"0.06 mm\"", "\"" + overlap + "\"");
}

// The highest tooth is 20 mm long, and its tip draws back by 0.6 d^2 / 20: with u = 1 - cos a and
// lift d = 5 sin a an overlap of 0.5 mm is 5 u + 0.75 u (2 - u), u = 0.077618, d = 1.9314 mm.
// 0.16154 sqrt(205e9 / 7850) = 825.50 m/s. 0.5 % are reached at f = 0.005 * 825.50 / (1.5 *
// 0.0019314) = 1424.7 Hz: E6 is 1318.5 Hz, F6 1396.9, F#6 1480.0.
TEST(CombDoubts, a_tooth_strained_by_more_than_half_a_percent_is_told_with_its_note) {
  EXPECT_THAT(comb_doubts(high_lift("0.5 mm", "C5 D5 E5 E6 F6")), IsEmpty());
  const Findings findings = comb_doubts(high_lift("0.5 mm", "C5 D5 E5 F6 F#6"));
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].level, Level::warning);
  // 1.5 * 1479.98 * 0.0019314 / 825.50 = 0.519 %; the overlap for 1.8593 mm is 5 - sqrt(25 -
  // 1.8593^2) + 0.6 * 1.8593^2 / 20 = 0.4622 mm.
  EXPECT_EQ(
      to_text(findings[0]),
      "star_wheel.tooth_overlap: a bare tooth for F#6 on track 5, the worst of all, lifted by "
      "1.931 mm, is strained by 0.519 % at its root; hardened steel stands about 0.5 %; lift "
      "the teeth less: an overlap of 0.462 mm would do");
  EXPECT_THAT(comb_doubts(high_lift("0.462 mm", "C5 D5 E5 F6 F#6")), IsEmpty());
}

TEST(CombDoubts, the_worst_tooth_is_on_the_innermost_track_where_the_bass_is_outside) {
  const Findings findings = comb_doubts(
      with(high_lift("0.5 mm", "C5 D5 E5 F6 F#6"), "[tracks]", "[tracks]\nbass = \"outer\""));
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_THAT(findings[0].what, HasSubstr("F#6 on track 1, the worst"));
}

// The projections pass 3.05 - 0.9 = 2.15 mm over the axis; 0.1 mm is the clearance. The
// longest tooth, 40 mm, draws back by 0.6 d^2 / 40: with u = 1 - cos a, 2.55 u + 0.09754 u (2 - u)
// is 1.1 mm for u = 0.40659, d = 2.55 sin a = 2.0525 mm; 1 mm lift by 1.983 mm.
TEST(CombDoubts, teeth_that_swing_up_into_the_projections_are_told) {
  EXPECT_THAT(comb_doubts(with(short_box, "\"0.06 mm\"", "\"1 mm\"")), IsEmpty());
  const Findings findings = comb_doubts(with(short_box, "\"0.06 mm\"", "\"1.1 mm\""));
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "star_wheel.axis_below_disc");
  EXPECT_EQ(findings[0].what,
            "the teeth of comb 1 swing up by 2.052 mm; the projections pass 2.15 mm over "
            "them, which does not leave the clearance of 0.1 mm");
}

// The star wheels reach 38 + 1 mm from the spindle, the back of the plate 2.55 - 0.06 + 40 + 15
// = 57.49 mm beside their line.
TEST(CombDoubts, a_comb_that_the_cabinet_has_no_room_for_is_told) {
  const std::string board = "[soundboard]\nlength = \"40 mm\"\nwidth = \"40 mm\"\n";
  const auto in = [&](const std::string& length, const std::string& width) {
    return comb_doubts(short_box + board + "[cabinet]\nlength = \"" + length + "\"\nwidth = \"" +
                       width + "\"\n");
  };
  EXPECT_THAT(in("78 mm", "115 mm"), IsEmpty());
  EXPECT_THAT(in("115 mm", "78 mm"), IsEmpty()) << "it may lie either way";
  EXPECT_EQ(in("114.9 mm", "114.9 mm").size(), 1U);
  const Findings findings = in("200 mm", "77.9 mm");
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "comb.longest_tooth");
  EXPECT_EQ(findings[0].what,
            "comb 1 reaches 39 mm from the spindle along the star wheels, and the back of "
            "its plate is 57.49 mm beside their line; a cabinet of 200 mm by 77.9 mm inside has no "
            "room for that from its middle");
}

TEST(CombDoubts, screw_holes_as_wide_as_the_bar_are_told) {
  const auto with_hole = [&](const std::string& diameter) {
    return comb_doubts(with(short_box, "[[comb]]",
                            "[[comb]]\nbar_depth = \"6 mm\"\nscrew_hole = \"" + diameter + "\""));
  };
  EXPECT_THAT(with_hole("3 mm"), IsEmpty());
  const Findings findings = with_hole("3.1 mm");
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "comb.screw_hole");
}

}  // namespace
}  // namespace combwright::box
