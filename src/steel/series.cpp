// SPDX-License-Identifier: Apache-2.0
#include "steel/series.h"

#include <cassert>

namespace combwright::steel {
namespace {

constexpr double negligible = 1e-17;

// 1 / n
constexpr std::array<double, most_terms + 1> reciprocals = [] {
  std::array<double, most_terms + 1> table{};
  for (std::size_t n = 1; n < table.size(); ++n) table[n] = 1.0 / static_cast<double>(n);
  return table;
}();

// Coefficient n of the product of a polynomial and a series.
template <std::size_t size>
Four product(const std::array<double, size>& polynomial,
             const std::array<Four, most_terms>& series, std::size_t n) {
  Four sum = series[n];  // every polynomial here begins with 1
  for (std::size_t j = 1; j < size && j <= n; ++j) sum += polynomial[j] * series[n - j];
  return sum;
}

// Coefficient n of a series divided by a polynomial, from those of the quotient before it.
template <std::size_t size>
Four quotient(const Four& coefficient, const std::array<double, size>& polynomial,
              const std::array<Four, most_terms>& quotients, std::size_t n) {
  Four sum = coefficient;
  for (std::size_t j = 1; j < size && j <= n; ++j) sum -= polynomial[j] * quotients[n - j];
  return sum;
}

double size_of(const Series& series, std::size_t n) {
  return (series.deflection[n].abs() + series.slope[n].abs() + series.shear[n].abs() +
          series.moment[n].abs())
      .maxCoeff();
}

}  // namespace

void expand(const Piece& piece, double angular_frequency, Series& series) {
  const double a2 = piece.half * piece.half;
  const double squared = angular_frequency * angular_frequency;
  const double sheared = piece.shear_compliance * piece.stiffness / a2;
  const double turned = squared * piece.rotary * a2 / piece.stiffness;
  const double moved = squared * piece.mass * a2 * a2 / piece.stiffness;

  std::array<Four, most_terms> bend;   // slope'
  std::array<Four, most_terms> glide;  // shear / g
  auto& [terms, deflection, slope, shear, moment] = series;
  deflection[0] = {1.0, 0.0, 0.0, 0.0};
  slope[0] = {0.0, 1.0, 0.0, 0.0};
  shear[0] = {0.0, 0.0, 1.0, 0.0};
  moment[0] = {0.0, 0.0, 0.0, 1.0};
  for (std::size_t n = 0; n + 1 < most_terms; ++n) {
    const double share = reciprocals[n + 1];
    if (piece.uniform) {
      deflection[n + 1] = share * (slope[n] + sheared * shear[n]);
      slope[n + 1] = share * moment[n];
      shear[n + 1] = -share * moved * deflection[n];
      moment[n + 1] = -share * (shear[n] + turned * slope[n]);
    } else {
      bend[n] = quotient(moment[n], piece.stiffness_shape, bend, n);
      deflection[n + 1] = share * slope[n];
      slope[n + 1] = share * bend[n];
      shear[n + 1] = -share * moved * product(piece.mass_shape, deflection, n);
      moment[n + 1] = -share * shear[n];
      if (sheared > 0.0) {
        glide[n] = quotient(shear[n], piece.shear_shape, glide, n);
        deflection[n + 1] += share * sheared * glide[n];
      }
      if (turned > 0.0)
        moment[n + 1] -= share * turned * product(piece.rotary_shape, slope, n);
    }
    terms = n + 2;
    // Every state depends on the four orders before it.
    if (n % 4 == 3 && size_of(series, n + 1) + size_of(series, n) + size_of(series, n - 1) +
                              size_of(series, n - 2) <
                          negligible)
      break;
  }
  assert(terms < most_terms);
}

Ends ends(const Series& series) {
  std::array<Four, 4> even;
  std::array<Four, 4> odd;
  even.fill(Four::Zero());
  odd.fill(Four::Zero());
  // From the small coefficients to the large ones.
  for (std::size_t n = series.terms; n-- > 0;) {
    std::array<Four, 4>& sum = n % 2 == 0 ? even : odd;
    sum[0] += series.deflection[n];
    sum[1] += series.slope[n];
    sum[2] += series.shear[n];
    sum[3] += series.moment[n];
  }
  Ends ends;
  for (Eigen::Index row = 0; row < 4; ++row) {
    const auto i = static_cast<std::size_t>(row);
    ends.inner.row(row) = (even[i] - odd[i]).matrix().transpose();
    ends.outer.row(row) = (even[i] + odd[i]).matrix().transpose();
  }
  return ends;
}

State own_units(const Piece& piece) {
  const double a = piece.half;
  return {1.0, a, a * a * a / piece.stiffness, a * a / piece.stiffness};
}

Eigen::Matrix4d inverse(const Eigen::Matrix4d& solutions) {
  Eigen::Matrix4d result;
  result.topLeftCorner<2, 2>() = solutions.bottomRightCorner<2, 2>().transpose();
  result.topRightCorner<2, 2>() = -solutions.topRightCorner<2, 2>().transpose();
  result.bottomLeftCorner<2, 2>() = -solutions.bottomLeftCorner<2, 2>().transpose();
  result.bottomRightCorner<2, 2>() = solutions.topLeftCorner<2, 2>().transpose();
  return result;
}

}  // namespace combwright::steel
