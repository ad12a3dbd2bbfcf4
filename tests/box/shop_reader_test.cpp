// SPDX-License-Identifier: Apache-2.0
#include "box/shop_reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/error.h"
#include "base/file.h"

namespace combwright::box {
namespace {

using testing::ElementsAre;

std::string refusal(const std::string& text) {
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
  EXPECT_EQ(refusal("[punch]\nhit = [\"M10\\nM11\"]\n"),
            "s.toml:2:8: punch.hit holds a control character; write it on one line");
}

TEST(ShopReader, a_box_file_is_not_taken_for_a_shop) {
  EXPECT_EQ(refusal("name = \"a\"\n[disc]\n"),
            "s.toml:2:1: [disc] stands in a box file: this is a box file; give a shop file here");
}

TEST(ShopReader, faults_are_named_as_in_a_box) {
  EXPECT_EQ(refusal("[punch]\nradial_speed = \"50 mm\"\n"),
            "s.toml:2:16: punch.radial_speed = \"50 mm\" has a unit that does not fit here; use "
            "mm/s or m/s");
  EXPECT_EQ(refusal("[punhc]\n"),
            "s.toml:1:1: a shop has no section \"punhc\"; did you mean \"punch\"?");
}

}  // namespace
}  // namespace combwright::box
