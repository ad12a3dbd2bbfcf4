// SPDX-License-Identifier: Apache-2.0
#include "disc/polygon.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "disc/sample_box.h"

namespace combwright::disc {
namespace {

Rectangle upright(double x, double y, double width, double height) {
  return {Corner{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
}

// Points all along the outline.
std::vector<Corner> sampled(const Rectangle& rectangle, int each_side) {
  std::vector<Corner> points;
  for (std::size_t side = 0; side < 4; ++side) {
    const Corner& a = rectangle[side];
    const Corner& b = rectangle[(side + 1) % 4];
    for (int i = 0; i < each_side; ++i) {
      const double share = static_cast<double>(i) / each_side;
      points.push_back({a.x_m + share * (b.x_m - a.x_m), a.y_m + share * (b.y_m - a.y_m)});
    }
  }
  return points;
}

// Right-angled triangle 3-4-5.
TEST(Polygon, DistanceBetweenCornersIsTheHypotenuse) {
  EXPECT_DOUBLE_EQ(distance_m(upright(0, 0, 1, 1), upright(4, 5, 2, 2)), 5.0);
}

TEST(Polygon, DistanceBetweenFacingSidesIsTheGap) {
  EXPECT_DOUBLE_EQ(distance_m(upright(0, 0, 1, 1), upright(1.5, -3, 2, 10)), 0.5);
}

TEST(Polygon, CrossingRectanglesWithoutACornerInsideOverlap) {
  EXPECT_EQ(distance_m(upright(0, 4, 10, 1), upright(4, 0, 1, 10)), 0.0);
}

TEST(Polygon, RectangleInsideAnotherOverlaps) {
  EXPECT_EQ(distance_m(upright(0, 0, 10, 10), upright(4, 4, 1, 1)), 0.0);
}

TEST(Polygon, DistanceToAPointIsToTheNearestSideOrCorner) {
  EXPECT_DOUBLE_EQ(distance_m(upright(0, 0, 2, 1), Corner{1.0, 3.0}), 2.0);
  EXPECT_DOUBLE_EQ(distance_m(upright(0, 0, 2, 1), Corner{5.0, 5.0}), 5.0);
  EXPECT_EQ(distance_m(upright(0, 0, 2, 1), Corner{1.0, 0.5}), 0.0);
}

TEST(Polygon, TouchingSidesAndCornersAreNoDistance) {
  EXPECT_EQ(distance_m(upright(0, 0, 1, 1), upright(1, 0, 1, 1)), 0.0);
  EXPECT_EQ(distance_m(upright(0, 0, 1, 1), upright(1, 1, 1, 1)), 0.0);
  EXPECT_EQ(distance_m(upright(0, 0, 1, 1), upright(0, 0, 1, 1)), 0.0);
  constexpr double hair = 1.0 / (1 << 30);
  EXPECT_EQ(distance_m(upright(0, 0, 1, 1), upright(1 + hair, 0, 1, 1)), hair);
}

TEST(Polygon, TheOrderOfCornersAndOfRectanglesDoesNotMatter) {
  const Rectangle a = upright(0, 0, 1, 1);
  const Rectangle b = upright(4, 5, 2, 2);
  const Rectangle backwards{b[3], b[2], b[1], b[0]};
  EXPECT_DOUBLE_EQ(distance_m(a, backwards), 5.0);
  EXPECT_DOUBLE_EQ(distance_m(backwards, a), 5.0);
  EXPECT_EQ(distance_m(backwards, Corner{5.0, 6.0}), 0.0);
}

TEST(Polygon, DistanceToALineEndsWhereTheLineEnds) {
  EXPECT_DOUBLE_EQ(distance_m(Corner{1, 2}, {0, 0}, {4, 0}), 2.0);
  EXPECT_DOUBLE_EQ(distance_m(Corner{7, 4}, {0, 0}, {4, 0}), 5.0);
  EXPECT_DOUBLE_EQ(distance_m(Corner{3, 4}, {0, 0}, {0, 0}), 5.0);
}

TEST(Polygon, APointOnASideIsInside) {
  EXPECT_EQ(distance_m(upright(0, 0, 2, 1), Corner{2.0, 0.5}), 0.0);
  EXPECT_EQ(distance_m(upright(0, 0, 2, 1), Corner{2.0, 1.0}), 0.0);
}

TEST(Polygon, ReachOfARectangleOverTheOriginBeginsAtNothing) {
  const Reach found = reach(upright(-3, -4, 6, 8));
  EXPECT_EQ(found.inner_m, 0.0);
  EXPECT_DOUBLE_EQ(found.outer_m, 5.0);
}

// Against the nearest two of many points along both outlines, which can't be nearer than the exact
// distance nor farther than a sampling step more.
TEST(Polygon, DistanceOfTurnedRectanglesMatchesSampledOutlines) {
  const box::Box box = testing::sample_box();
  std::mt19937_64 random(5);
  constexpr int each_side = 60;
  const double step_m = box.projection.length_m / each_side;
  for (int trial = 0; trial < 100; ++trial) {
    const Rectangle a = footprint(box, 0.05, testing::unit(random) * 6.0);
    const double angle = std::atan2(a[0].y_m, a[0].x_m) + 0.06 + 0.1 * testing::unit(random);
    const Rectangle b = footprint(box, 0.045 + 0.01 * testing::unit(random), angle);
    double nearest = 1.0;
    for (const Corner& p : sampled(a, each_side)) {
      for (const Corner& q : sampled(b, each_side)) {
        nearest = std::min(nearest, std::hypot(p.x_m - q.x_m, p.y_m - q.y_m));
      }
    }
    EXPECT_LE(distance_m(a, b), nearest + 1e-15) << "trial " << trial;
    EXPECT_GE(distance_m(a, b), nearest - step_m) << "trial " << trial;
  }
}

// The far end of a straight rectangle square to the radius lies outside the track (Pythagoras).
TEST(Polygon, ReachOfAHitIsFromItsLeadingEdgeToItsTrailingCorner) {
  const box::Box box = testing::sample_box();
  const Reach found = reach(footprint(box, 0.1, 1.0));
  EXPECT_NEAR(found.inner_m, 0.0995, 1e-15);
  EXPECT_NEAR(found.outer_m, std::hypot(0.1005, 0.0025), 1e-15);
}

}  // namespace
}  // namespace combwright::disc
