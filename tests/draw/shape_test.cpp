// SPDX-License-Identifier: Apache-2.0
#include "draw/shape.h"

#include <numbers>

#include <gtest/gtest.h>

namespace combwright::draw {
namespace {

TEST(Shape, RoundsALengthOnceToATenthOfAMicrometre) {
  EXPECT_EQ(to_lattice(0.1), 1'000'000);
  EXPECT_EQ(to_lattice(0.12345678), 1'234'568);
  EXPECT_EQ(to_lattice(-0.00000004), 0);
}

TEST(Shape, WritesMillimetresWithoutAFloatBetween) {
  EXPECT_EQ(mm_text(1'234'568), "123.4568");
  EXPECT_EQ(mm_text(-5), "-0.0005");
  EXPECT_EQ(mm_text(0), "0.0000");
}

TEST(Shape, WritesAnAngleWithinOneTurn) {
  EXPECT_EQ(degrees_text(std::numbers::pi), "180.00000");
  EXPECT_EQ(degrees_text(2.0 * std::numbers::pi - 1e-9), "0.00000");
  EXPECT_EQ(degrees_text(-std::numbers::pi / 2.0), "270.00000");
}

TEST(Shape, CountsAnglesCounterClockwiseFromX) {
  EXPECT_EQ(polar(0.1, 0.0), (Point{1'000'000, 0}));
  EXPECT_EQ(polar(0.1, std::numbers::pi / 2.0), (Point{0, 1'000'000}));
}

TEST(Shape, BoundsHoldTheWholeDrawing) {
  Drawing drawing;
  drawing.items.push_back({Layer::edge, Circle{{10, 20}, 5}});
  drawing.items.push_back({Layer::marks, Line{{0, 0}, {12, 40}}});
  const auto [low, high] = bounds(drawing);
  EXPECT_EQ(low, (Point{0, 0}));
  EXPECT_EQ(high, (Point{15, 40}));
}

TEST(Shape, BoundsOfATextFollowItsAnchor) {
  const auto width = text_width("ABC", 100);
  for (const auto& [anchor, left] : {std::pair{Anchor::start, std::int64_t{0}},
                                     {Anchor::middle, -width / 2},
                                     {Anchor::end, -width}}) {
    EXPECT_EQ(bounds(Text{{0, 0}, 100, anchor, "ABC"}).low.x, left);
  }
}

}  // namespace
}  // namespace combwright::draw
