// SPDX-License-Identifier: Apache-2.0
#include "draw/free_space.h"

#include <gtest/gtest.h>

namespace combwright::draw {
namespace {

constexpr std::int64_t mm = lattice_per_mm;
constexpr Box2 strip{{0, 0}, {100 * mm, 10 * mm}};
constexpr Point wish{20 * mm, 2 * mm};

TEST(NearestFree, IsWhereWishedIfNothingIsThere) {
  const auto found = nearest_free({}, strip, 30 * mm, 2 * mm, wish);
  ASSERT_TRUE(found);
  EXPECT_LE(std::abs(found->x - wish.x), mm / 2);
  EXPECT_LE(std::abs(found->y - wish.y), mm / 2);
}

TEST(NearestFree, StepsAsideAndKeepsItsDistance) {
  const Circle hole{{25 * mm, 5 * mm}, 2 * mm};
  const auto found = nearest_free({hole}, strip, 30 * mm, 4 * mm, wish);
  ASSERT_TRUE(found);
  const Box2 around{{found->x - mm / 3, found->y - mm / 3},
                    {found->x + 30 * mm + mm / 3, found->y + 4 * mm + mm / 3}};
  EXPECT_FALSE(overlaps(around, hole));
  EXPECT_LT(found->x - wish.x, 9 * mm);  // beside the hole, not at the far end
}

TEST(NearestFree, MayStandInsideALargeCircleButNotOnItsLine) {
  const Circle edge{{50 * mm, 5 * mm}, 200 * mm};
  EXPECT_TRUE(nearest_free({edge}, strip, 30 * mm, 2 * mm, wish));
  const Circle across{{20 * mm, -190 * mm}, 195 * mm};
  const auto found = nearest_free({across}, strip, 30 * mm, 2 * mm, wish);
  ASSERT_TRUE(found);
  EXPECT_FALSE(touches(across, {*found, {found->x + 30 * mm, found->y + 2 * mm}}));
}

TEST(NearestFree, IsNoneInARoomThatIsTooFullOrTooSmall) {
  std::vector<Shape> posts;
  for (int i = 0; i < 10; ++i) posts.emplace_back(Line{{i * 10 * mm, 0}, {i * 10 * mm, 10 * mm}});
  EXPECT_FALSE(nearest_free(posts, strip, 12 * mm, 2 * mm, wish));
  EXPECT_TRUE(nearest_free(posts, strip, 8 * mm, 2 * mm, wish));
  EXPECT_FALSE(nearest_free({}, strip, 30 * mm, 11 * mm, wish));
}

}  // namespace
}  // namespace combwright::draw
