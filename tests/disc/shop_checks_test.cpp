// SPDX-License-Identifier: Apache-2.0
#include "disc/shop_checks.h"

#include <gtest/gtest.h>

#include "disc/sample_box.h"

namespace combwright::disc {
namespace {

class ShopChecks : public ::testing::Test {
 protected:
  box::Box box_ = testing::sample_box();
  box::Shop shop_;

  void expect_one(Level level, const std::string& where) {
    const Findings findings = check_shop(box_, shop_);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].level, level);
    EXPECT_EQ(findings[0].where, where);
  }
};

// 2 x 4 mm out of 0.6 mm at 300 MPa: 12 mm * 0.6 mm * 300 MPa = 2160 N by hand.
TEST_F(ShopChecks, StrokeForceIsPerimeterTimesThicknessTimesShearStrength) {
  box_.projection.length_m = 0.004;
  box_.projection.width_m = 0.002;
  box_.disc.thickness_m = 0.0006;
  shop_.punch.sheet_shear_strength_pa = 3.0e8;
  EXPECT_NEAR(stroke_force_n(box_, shop_), 2160.0, 1e-9);
}

TEST_F(ShopChecks, AnUsualShopHasNothingToSay) {
  EXPECT_TRUE(check_shop(box_, shop_).empty());
}

TEST_F(ShopChecks, AStrokeBeyondTheForceOfThePunchIsAFault) {
  shop_.punch.force_limit_n = stroke_force_n(box_, shop_) - 1.0;
  expect_one(Level::fault, "punch.force_limit");
}

TEST_F(ShopChecks, AStrokeShorterThanAProjectionIsAFault) {
  shop_.punch.down_m = -0.9 * box_.projection.height_m;
  expect_one(Level::fault, "punch.down");
  shop_.punch.hit = {"M10", "M11"};
  EXPECT_TRUE(check_shop(box_, shop_).empty());
}

// Common practice, no source: height and one to three thicknesses, here 1 mm and 0.6 mm.
TEST_F(ShopChecks, AStrokeMuchShallowerOrDeeperThanUsualIsAWarning) {
  for (const double depth_m : {0.00159, 0.00281, 0.008, 0.020}) {
    shop_.punch.down_m = -depth_m;
    expect_one(Level::warning, "punch.down");
  }
  for (const double depth_m : {0.0016, 0.0028}) {
    shop_.punch.down_m = -depth_m;
    EXPECT_TRUE(check_shop(box_, shop_).empty()) << depth_m;
  }
}

TEST_F(ShopChecks, AToolThatHardlyClearsTheSheetIsAWarning) {
  shop_.punch.up_m = 0.5 * box_.disc.thickness_m;
  expect_one(Level::warning, "punch.up");
}

TEST_F(ShopChecks, ASheetThatIsNotAtHandIsAWarning) {
  shop_.sheets = {{.material = "steel", .thickness_m = 2.0 * box_.disc.thickness_m}};
  expect_one(Level::warning, "sheet");
}

}  // namespace
}  // namespace combwright::disc
