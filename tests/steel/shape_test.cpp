// SPDX-License-Identifier: Apache-2.0
//
// How an even clamped-free bar bends in its modes: R. D. Blevins, Formulas for Natural Frequency
// and Mode Shape, table 8-1: cosh(l x) - cos(l x) - s (sinh(l x) - sin(l x)), 2 at the tip, with s
// = 0.734096, 1.018467, 0.999224, 1.000034 for the first four.
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

constexpr std::array<double, 4> printed_lambda{1.875104068711961, 4.694091132974175,
                                               7.854757438237613, 10.99554073487547};
constexpr std::array<double, 4> printed_s{0.734096, 1.018467, 0.999224, 1.000034};

double s_of(double l) {
  return (std::sinh(l) - std::sin(l)) / (std::cosh(l) + std::cos(l));
}

TEST(Shape, OfAnEvenBarIsThePublishedOneInFourModes) {
  const Tooth tooth = sample_tooth();
  const std::vector<Mode> found = modes(tooth);
  std::vector<double> positions;
  for (int i = 0; i <= 60; ++i) positions.push_back(0.03 * i / 60.0);
  for (std::size_t k = 0; k < printed_lambda.size(); ++k) {
    EXPECT_NEAR(s_of(printed_lambda[k]), printed_s[k], 6e-7);
    const std::vector<double> deflections = shape(tooth, found[k], positions);
    const double sign = k % 2 == 0 ? 1.0 : -1.0;
    for (std::size_t i = 0; i < positions.size(); ++i) {
      const double x = printed_lambda[k] * positions[i] / 0.03;
      const double published =
          std::cosh(x) - std::cos(x) - s_of(printed_lambda[k]) * (std::sinh(x) - std::sin(x));
      EXPECT_NEAR(deflections[i], 0.5 * sign * published, 1e-8) << "mode " << k + 1 << ", " << i;
    }
  }
}

}  // namespace
}  // namespace combwright::steel
