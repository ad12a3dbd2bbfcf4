// SPDX-License-Identifier: Apache-2.0
#include "box/shop_reader.h"

#include <utility>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"

namespace combwright::box {
namespace {

using testing::ElementsAre;

std::string shop_refusal(const std::string& text) {
  try {
    read_shop(text, "s.toml");
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

TEST(ShopReader, an_empty_file_is_the_default_shop) {
  const Shop read = read_shop("", "s.toml");
  const Shop plain;
  EXPECT_EQ(read.name, plain.name);
  EXPECT_EQ(read.punch.radial_speed_m_s, plain.punch.radial_speed_m_s);
  EXPECT_EQ(read.punch.radial_acceleration_m_s2, plain.punch.radial_acceleration_m_s2);
  EXPECT_DOUBLE_EQ(read.punch.rotary_speed_rad_s, plain.punch.rotary_speed_rad_s);
  EXPECT_DOUBLE_EQ(read.punch.rotary_acceleration_rad_s2, plain.punch.rotary_acceleration_rad_s2);
  EXPECT_EQ(read.punch.stroke_time_s, plain.punch.stroke_time_s);
  EXPECT_EQ(read.punch.up_m, plain.punch.up_m);
  EXPECT_EQ(read.punch.down_m, plain.punch.down_m);
  EXPECT_EQ(read.punch.feed_m_s, plain.punch.feed_m_s);
  EXPECT_EQ(read.punch.force_limit_n, plain.punch.force_limit_n);
  EXPECT_EQ(read.punch.hit, plain.punch.hit);
  EXPECT_EQ(read.punch.sheet_shear_strength_pa, plain.punch.sheet_shear_strength_pa);
  EXPECT_EQ(read.paper.name, plain.paper.name);
  EXPECT_EQ(read.paper.width_m, plain.paper.width_m);
  EXPECT_EQ(read.paper.height_m, plain.paper.height_m);
  EXPECT_EQ(read.paper.margin_m, plain.paper.margin_m);
  EXPECT_EQ(read.sheets.size(), plain.sheets.size());
  EXPECT_EQ(read.steel.plate_thickness_m, plain.steel.plate_thickness_m);
  EXPECT_EQ(read.lead.smallest_clip_kg, plain.lead.smallest_clip_kg);
  EXPECT_DOUBLE_EQ(read.tolerance.angle_rad, plain.tolerance.angle_rad);
  EXPECT_EQ(read.tolerance.radius_m, plain.tolerance.radius_m);
  EXPECT_EQ(read.tolerance.pitch_cents, plain.tolerance.pitch_cents);
}

// ISO 216: A4 is 210 mm by 297 mm.
TEST(ShopReader, the_default_paper_is_a4) {
  const Shop shop = read_shop("", "s.toml");
  EXPECT_EQ(shop.paper.width_m, 0.210);
  EXPECT_EQ(shop.paper.height_m, 0.297);
}

TEST(ShopReader, the_example_shop_is_read) {
  const Bytes bytes = read_file(COMBWRIGHT_SOURCE_DIR "/examples/shop.toml");
  const Shop shop = read_shop(as_text(bytes), "shop.toml");
  EXPECT_EQ(shop.name, "example workshop");
  ASSERT_EQ(shop.sheets.size(), 2U);
  EXPECT_EQ(shop.sheets[1].thickness_m, 0.0004);
}

TEST(ShopReader, a_hit_can_be_written_in_the_machines_own_words) {
  EXPECT_THAT(read_shop("[punch]\nhit = [\"M10\", \"G4 P0.1\", \"M11\"]\n", "s.toml").punch.hit,
              ElementsAre("M10", "G4 P0.1", "M11"));
  EXPECT_EQ(shop_refusal("[punch]\nhit = [\"M10\\nM11\"]\n"),
            "s.toml:2:8: punch.hit holds a control character; write it on one line");
}

TEST(ShopReader, a_hit_that_would_change_the_program_is_refused_where_it_stands) {
  EXPECT_EQ(
      shop_refusal("[punch]\nhit = [\"M10\",\n  \"G91 G1 Z-2\", \"M11\"]\n"),
      "s.toml:3:3: punch.hit has G91, which counts from where the tool is; a stroke must leave "
      "that to the program");
  EXPECT_EQ(
      shop_refusal("[punch]\nhit = [\"M7\", \"G1 Z-2 F60\"]\n"),
      "s.toml:2:14: punch.hit leaves the tool at Z-2, not above the sheet; end it with a line "
      "that lifts the tool");
}

// ISO 216: A0 is 841 mm by 1189 mm, and each size the one before cut in half across, rounded down.
TEST(ShopReader, a_paper_of_the_a_sizes_is_known_by_its_name) {
  int width_mm = 841;
  int height_mm = 1189;
  for (const char* name : {"A0", "A1", "A2", "A3", "A4", "A5"}) {
    const Paper paper = read_shop(fmt::format("[paper]\nname = \"{}\"\n", name), "s.toml").paper;
    EXPECT_NEAR(paper.width_m, width_mm * 1e-3, 1e-12) << name;
    EXPECT_NEAR(paper.height_m, height_mm * 1e-3, 1e-12) << name;
    height_mm = std::exchange(width_mm, height_mm / 2);
  }
  EXPECT_EQ(read_shop("[paper]\nname = \"a3\"\n", "s.toml").paper.width_m, 0.297);
}

// ASME Y14.1: sizes A and B are 8.5 in by 11 in and 11 in by 17 in. Legal, 8.5 in by 14 in: from
// memory.
TEST(ShopReader, papers_in_inches_are_known_by_their_names) {
  const auto paper = [](const std::string& name) {
    return read_shop("[paper]\nname = \"" + name + "\"\n", "s.toml").paper;
  };
  EXPECT_NEAR(paper("Letter").width_m, 8.5 * 0.0254, 1e-12);
  EXPECT_NEAR(paper("Letter").height_m, 11 * 0.0254, 1e-12);
  EXPECT_NEAR(paper("Tabloid").width_m, 11 * 0.0254, 1e-12);
  EXPECT_NEAR(paper("Tabloid").height_m, 17 * 0.0254, 1e-12);
  EXPECT_NEAR(paper("Legal").width_m, 8.5 * 0.0254, 1e-12);
  EXPECT_NEAR(paper("Legal").height_m, 14 * 0.0254, 1e-12);
}

TEST(ShopReader, an_unknown_name_of_paper_needs_its_size) {
  EXPECT_EQ(shop_refusal("[paper]\nname = \"B4\"\nwidth = \"250 mm\"\n"),
            "s.toml:2:8: paper.name is \"B4\", whose size is not known; write A0, A1, A2, A3, A4, "
            "A5, Letter, Legal or Tabloid, or give width and height too");
  const Paper roll =
      read_shop("[paper]\nname = \"roll\"\nwidth = \"300 mm\"\nheight = \"900 mm\"\n", "s.toml")
          .paper;
  EXPECT_EQ(roll.name, "roll");
  EXPECT_NEAR(roll.height_m, 0.9, 1e-12);
}

TEST(ShopReader, name_and_sides_of_a_paper_must_agree) {
  EXPECT_EQ(shop_refusal("[paper]\nname = \"A3\"\nwidth = \"210 mm\"\n"),
            "s.toml:3:9: paper.width is 210 mm, but A3 is 297 mm by 420 mm; correct it or leave it "
            "out");
  EXPECT_EQ(
      shop_refusal("[paper]\nheight = \"11 in\"\nname = \"A4\"\n"),
      "s.toml:2:10: paper.height is 279.4 mm, but A4 is 210 mm by 297 mm; correct it or leave "
      "it out");
  EXPECT_EQ(shop_refusal("[paper]\nname = \"Letter\"\nwidth = \"216 mm\"\n"), "");
}

TEST(ShopReader, a_paper_without_a_name_is_called_by_its_sides) {
  EXPECT_EQ(read_shop("[paper]\nwidth = \"200 mm\"\n", "s.toml").paper.name, "200 mm x 297 mm");
}

TEST(ShopReader, a_box_file_is_not_taken_for_a_shop) {
  EXPECT_EQ(shop_refusal("name = \"a\"\n[disc]\n"),
            "s.toml:2:1: [disc] stands in a box file: this is a box file; give a shop file here");
}

TEST(ShopReader, faults_are_named_as_in_a_box) {
  EXPECT_EQ(shop_refusal("[punch]\nradial_speed = \"50 mm\"\n"),
            "s.toml:2:16: punch.radial_speed = \"50 mm\" has a unit that does not fit here; use "
            "mm/s or m/s");
  EXPECT_EQ(shop_refusal("[punhc]\n"),
            "s.toml:1:1: a shop has no section \"punhc\"; did you mean \"punch\"?");
}

}  // namespace
}  // namespace combwright::box
