// SPDX-License-Identifier: Apache-2.0
#include "steel/learning/bounded_minimum.h"

#include <limits>
#include <random>

#include <gtest/gtest.h>

namespace combwright::steel {
namespace {

constexpr double unbounded = std::numeric_limits<double>::infinity();

// The conditions of Karush, Kuhn and Tucker, which a convex problem's minimum alone fulfils
// (Nocedal and Wright, Numerical Optimization, section 16.7): the slope is nil where an unknown is
// free and points outwards where it is held.
TEST(BoundedMinimum, has_no_way_down_within_its_bounds) {
  std::mt19937 random(8);
  std::normal_distribution<double> normal;
  int held = 0;
  for (int round = 0; round < 500; ++round) {
    Matrix root(4, 4);
    Vector g(4);
    for (double& entry : root.reshaped()) entry = normal(random);
    for (double& entry : g) entry = 3.0 * normal(random);
    const Matrix a = root * root.transpose() + 0.1 * Matrix::Identity(4, 4);
    const Vector least{{-0.3, -0.2, -unbounded, -unbounded}};
    const Vector greatest{{0.3, 0.5, unbounded, unbounded}};
    const Vector z = bounded_minimum(a, g, least, greatest);
    const Vector slope = a * z - g;
    for (Eigen::Index i = 0; i < 4; ++i) {
      ASSERT_GE(z[i], least[i]);
      ASSERT_LE(z[i], greatest[i]);
      if (z[i] == least[i])
        EXPECT_GT(slope[i], -1e-9);
      else if (z[i] == greatest[i])
        EXPECT_LT(slope[i], 1e-9);
      else
        EXPECT_NEAR(slope[i], 0.0, 1e-9);
      held += z[i] == least[i] || z[i] == greatest[i] ? 1 : 0;
    }
  }
  EXPECT_GT(held, 100);
}

// Solved by hand: free, the minimum of x^2 + xy + y^2 - 3y is (-1, 2); with x at 0 or more y
// is 1.5.
TEST(BoundedMinimum, solves_for_the_others_where_one_is_held) {
  const Matrix a{{2.0, 1.0}, {1.0, 2.0}};
  const Vector g{{0.0, 3.0}};
  const Vector z = bounded_minimum(a, g, Vector{{0.0, -unbounded}}, Vector{{1.0, unbounded}});
  EXPECT_DOUBLE_EQ(z[0], 0.0);
  EXPECT_DOUBLE_EQ(z[1], 1.5);
}

}  // namespace
}  // namespace combwright::steel
