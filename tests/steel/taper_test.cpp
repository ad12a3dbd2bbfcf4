// SPDX-License-Identifier: Apache-2.0
//
// Bars whose thickness or width runs linearly: Kirchhoff's Bessel functions, solved here with
// Boost, and published tables.
#include <array>
#include <cmath>
#include <vector>

#include <Eigen/LU>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <gtest/gtest.h>

#include "sample_tooth.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

Tooth tapered(double thickness_loss, double width_loss = 0.0) {
  Tooth tooth = sample_tooth();
  tooth.sections[0].tip_thickness_m *= 1.0 - thickness_loss;
  tooth.sections[0].tip_width_m *= 1.0 - width_loss;
  return tooth;
}

// h = h0 X with X = 1 - q x / L: w = X^(-1/2) Z1(2 k sqrt X), k = lambda / q, with Z any of J, Y, I
// and K (Kirchhoff 1879). For Z = J and Y: dw/dX = -k X^-1 Z2; for I: +k X^-1 I2; for K: -k X^-1
// K2; X^2 d2w/dX2 and the shear follow from w = X^(-1/2) Z1 in the same way: X^n d^n w/dX^n is
// (-+k)^n X^((n-1)/2) Z(n+1), so that moment and shear, X^3 w'' and its derivative, need Z3 and Z2.
double kirchhoff(double q, double lambda) {
  namespace bm = boost::math;
  const double k = lambda / q;
  const double root = 2.0 * k;
  const double tip = 2.0 * k * std::sqrt(1.0 - q);
  // d/dX [X^(-n/2) Z_n(2k sqrt X)] = -+ k X^(-(n+1)/2) Z_(n+1); d/dX [X^(n/2) Z_n] = +- k
  // X^((n-1)/2) Z_(n-1). Moment: X^3 w'' ~ X^(3/2) Z3; its derivative ~ X Z2.
  Eigen::Matrix4d conditions;
  conditions << bm::cyl_bessel_j(1, root), bm::cyl_neumann(1, root), bm::cyl_bessel_i(1, root),
      bm::cyl_bessel_k(1, root),  //
      -bm::cyl_bessel_j(2, root), -bm::cyl_neumann(2, root), bm::cyl_bessel_i(2, root),
      -bm::cyl_bessel_k(2, root),  //
      bm::cyl_bessel_j(3, tip), bm::cyl_neumann(3, tip), bm::cyl_bessel_i(3, tip),
      bm::cyl_bessel_k(3, tip),  //
      bm::cyl_bessel_j(2, tip), bm::cyl_neumann(2, tip), bm::cyl_bessel_i(2, tip),
      -bm::cyl_bessel_k(2, tip);
  // Columns of one size.
  for (Eigen::Index c = 0; c < 4; ++c) conditions.col(c).normalize();
  return conditions.determinant();
}

TEST(LinearTaper, HasTheModesOfKirchhoffsBesselFunctions) {
  for (const double q : {0.1, 0.25, 0.4, 0.5, 0.6, 0.8, 0.9}) {
    const std::vector<double> found = lambdas(tapered(q));
    for (const double lambda : found) {
      const double low = kirchhoff(q, lambda * (1.0 - 0.5 * modes_relative_error));
      const double high = kirchhoff(q, lambda * (1.0 + 0.5 * modes_relative_error));
      EXPECT_LT(low * high, 0.0) << "q " << q << ", lambda " << lambda;
    }
    int signs = 0;
    double before = kirchhoff(q, 0.5);
    for (double lambda = 0.5; lambda <= found.back() + 0.1; lambda += 0.02) {
      const double now = kirchhoff(q, lambda);
      if (now * before < 0.0) ++signs;
      before = now;
    }
    EXPECT_EQ(signs, 4) << "q " << q;
  }
}

struct TaperRow {
  double loss;
  std::array<double, 3> lambda_squared;
};

// Int. J. Mech. Materials Eng. 2015 (s40712-015-0040-0), table 1, which agrees with Ozdemir & Kaya.
// Its cell for a bar without taper prints 3.15601; right is 3.51602.
TEST(LinearTaper, HasThePublishedModes) {
  constexpr std::array<TaperRow, 4> rows{{{0.2, {3.60828, 20.6210, 56.1923}},
                                          {0.4, {3.73708, 19.1138, 50.3537}},
                                          {0.6, {3.93428, 17.4879, 44.0248}},
                                          {0.8, {4.29249, 15.7427, 36.8846}}}};
  for (const TaperRow& row : rows) {
    const std::vector<double> found = lambdas(tapered(row.loss));
    for (std::size_t k = 0; k < 3; ++k)
      EXPECT_NEAR(found[k] * found[k], row.lambda_squared[k], 4e-6 * row.lambda_squared[k]);
  }
  const double plain = lambdas(tapered(0.0))[0];
  EXPECT_NEAR(plain * plain, 3.51602, 5e-6);
}

// The same table for width alone.
TEST(LinearTaper, OfWidthHasThePublishedFirstMode) {
  for (const auto& [loss, squared] :
       {std::pair{0.2, 3.76286}, {0.4, 4.09698}, {0.6, 4.58531}, {0.8, 5.39759}}) {
    const double lambda = lambdas(tapered(0.0, loss))[0];
    EXPECT_NEAR(lambda * lambda, squared, 1e-5);
  }
}

// Mabie & Rogers, J. Acoust. Soc. Am. 51 (1972) 1771, as quoted in code_aster's test V2.02.009, in
// units of the tip's section; 200 Hermite elements give one digit more.
TEST(LinearTaper, OfWidthAndThicknessHasThePublishedModes) {
  const std::array<double, 5> mabie{23.289, 73.9, 165.23, 299.7, 478.1};
  const std::array<double, 5> elements{23.2922, 73.9188, 165.285, 299.780, 478.180};
  const std::vector<double> found = lambdas(tapered(0.75, 0.75), 5);
  for (std::size_t k = 0; k < 5; ++k) {
    EXPECT_NEAR(4.0 * found[k] * found[k], mabie[k], 5e-4 * mabie[k]);
    EXPECT_NEAR(4.0 * found[k] * found[k], elements[k], 3e-6 * elements[k]);
  }
  const double fifth = lambdas(tapered(0.75, 0.8), 1)[0];
  EXPECT_NEAR(4.0 * fifth * fifth, 24.308, 5e-4 * 24.308);
}

}  // namespace
}  // namespace combwright::steel
