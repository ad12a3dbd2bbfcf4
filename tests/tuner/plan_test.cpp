// SPDX-License-Identifier: Apache-2.0
#include "tuner/plan.h"

#include <cmath>
#include <random>

#include <boost/math/special_functions/erf.hpp>
#include <gtest/gtest.h>

namespace combwright::tuner {
namespace {

struct Played {
  double sharp = 0.0;
  double cuts = 0.0;
};

// Teeth of which the room left after each cut is known and the common part of the cuts' errors is
// learnt by the textbook's rule for a normal mean (Gelman et al., Bayesian Data Analysis, 2.5).
Played played(const Course& course, int teeth) {
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  Played sum;
  for (int i = 0; i < teeth; ++i) {
    const double common = course.log_common * normal(random);
    Course now = course;
    double mean = 0.0;
    for (int cut = 0; cut < 50 && now.flat_cents > now.tolerance_cents; ++cut) {
      const auto step = plan(now);
      EXPECT_TRUE(step);
      if (!step) break;
      const double spread = std::hypot(now.log_common, now.log_scatter);
      const double z = std::sqrt(2.0) * boost::math::erfc_inv(2.0 * step->chance);
      const double told = std::log(now.flat_cents + now.tolerance_cents) - mean - z * spread;
      const double error = common + now.log_scatter * normal(random);
      now.flat_cents -= std::exp(told + error);
      const double before = 1.0 / (now.log_common * now.log_common);
      const double own = 1.0 / (now.log_scatter * now.log_scatter);
      mean = (before * mean + own * error) / (before + own);
      now.log_common = std::sqrt(1.0 / (before + own));
      sum.cuts += 1.0;
    }
    sum.sharp += now.flat_cents < -now.tolerance_cents ? 1.0 : 0.0;
  }
  return {sum.sharp / teeth, sum.cuts / teeth};
}

constexpr Course example{.flat_cents = 55.0,
                         .tolerance_cents = 2.0,
                         .log_common = 0.09,
                         .log_scatter = 0.08,
                         .least_cents = 0.5,
                         .risk = 0.02};

TEST(Plan, KeepsTheRiskAndTheCutsThatItExpects) {
  const Played got = played(example, 1000);
  // The risk is for what is still to come, at every reading anew, so the whole is a little more.
  EXPECT_LT(got.sharp, 1.5 * example.risk);
  EXPECT_GT(got.sharp, 0.3 * example.risk);
  EXPECT_NEAR(got.cuts, plan(example)->cuts, 0.25);
}

TEST(Plan, ASmallerRiskCostsCuts) {
  Course careful = example;
  careful.risk = 0.0005;
  EXPECT_GT(plan(careful)->cuts, plan(example)->cuts);
  EXPECT_LE(plan(careful)->chance, careful.risk * 1.000001);
}

TEST(Plan, ACoarseCutThatWouldGoSharpIsNotMade) {
  Course coarse = example;
  coarse.flat_cents = 5.0;
  coarse.least_cents = 9.0;
  EXPECT_FALSE(plan(coarse));
  coarse.filing_cents = 20.0;
  EXPECT_FALSE(plan(coarse));
}

TEST(Plan, LooksAheadSoThatTheLastCutIsNotTooSmall) {
  // With cuts of 12 cents or more, a first cut that leaves less than that must be filed.
  Course coarse = example;
  coarse.flat_cents = 30.0;
  coarse.least_cents = 12.0;
  coarse.filing_cents = 0.0;
  const auto step = plan(coarse);
  ASSERT_TRUE(step);
  Course fine = coarse;
  fine.least_cents = 0.5;
  EXPECT_NE(step->chance, plan(fine)->chance);
  EXPECT_GT(step->cuts, plan(fine)->cuts);
}

}  // namespace
}  // namespace combwright::tuner
