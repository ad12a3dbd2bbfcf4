// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/series.h"

#include "base/error.h"

namespace combwright::steel {
namespace {

// What the four last orders may add to values of 1 and more.
constexpr double negligible = 1e-15;

// No series is shorter.
constexpr std::size_t least_terms = 9;

// 1 / n
constexpr std::array<double, most_terms + 1> reciprocals = [] {
  std::array<double, most_terms + 1> table{};
  for (std::size_t n = 1; n < table.size(); ++n) table[n] = 1.0 / static_cast<double>(n);
  return table;
}();

// Coefficient n of the product of a polynomial and a series. Every polynomial here begins with 1.
template <bool far, std::size_t size>
Four product(const std::array<double, size>& polynomial, const std::array<Four, most_terms>& series,
             std::size_t n) {
  Four sum = series[n];
  for (std::size_t j = 1; j < size && (far || j <= n); ++j) sum += polynomial[j] * series[n - j];
  return sum;
}

// Coefficient n of a series divided by a polynomial, from those of the quotient before it.
template <bool far, std::size_t size>
Four quotient(const Four& coefficient, const std::array<double, size>& polynomial,
              const std::array<Four, most_terms>& quotients, std::size_t n) {
  Four sum = coefficient;
  for (std::size_t j = 1; j < size && (far || j <= n); ++j) sum -= polynomial[j] * quotients[n - j];
  return sum;
}

// The most that orders n - 3 to n add to any of the solutions.
double last_four(const Series& series, std::size_t n) {
  Four sum = Four::Zero();
  for (std::size_t i = n - 3; i <= n; ++i) {
    sum += series.deflection[i].abs() + series.slope[i].abs() + series.shear[i].abs() +
           series.moment[i].abs();
  }
  return sum.maxCoeff();
}

// The constants of a piece's equations at one angular frequency, and their next coefficients.
struct Equations {
  const Piece& piece;
  double sheared;  // a
  double turned;   // b
  double moved;    // c
  Series& series;
  std::array<Four, most_terms> bend;   // slope'
  std::array<Four, most_terms> glide;  // shear / g

  void step_uniform(std::size_t n) {
    const double share = reciprocals[n + 1];
    series.deflection[n + 1] = share * (series.slope[n] + sheared * series.shear[n]);
    series.slope[n + 1] = share * series.moment[n];
    series.shear[n + 1] = -share * moved * series.deflection[n];
    series.moment[n + 1] = -share * (series.shear[n] + turned * series.slope[n]);
  }

  // `far`: there are as many coefficients before this one as the longest polynomial has.
  template <bool far>
  void step(std::size_t n) {
    const double share = reciprocals[n + 1];
    bend[n] = quotient<far>(series.moment[n], piece.stiffness_shape, bend, n);
    Four deflection = series.slope[n];
    Four moment = series.shear[n];
    if (sheared > 0.0) {
      glide[n] = quotient<far>(series.shear[n], piece.shear_shape, glide, n);
      deflection += sheared * glide[n];
    }
    if (turned > 0.0) moment += turned * product<far>(piece.rotary_shape, series.slope, n);
    series.deflection[n + 1] = share * deflection;
    series.slope[n + 1] = share * bend[n];
    series.shear[n + 1] = -share * moved * product<far>(piece.mass_shape, series.deflection, n);
    series.moment[n + 1] = -share * moment;
  }
};

// Deflection, slope, shear force and moment of four solutions.
using Sums = std::array<Four, 4>;

// Sum of the coefficients of even or of odd order.
Sums every_other(const Series& series, std::size_t first) {
  Four deflection = Four::Zero();
  Four slope = Four::Zero();
  Four shear = Four::Zero();
  Four moment = Four::Zero();
  for (std::size_t n = first; n < series.terms; n += 2) {
    deflection += series.deflection[n];
    slope += series.slope[n];
    shear += series.shear[n];
    moment += series.moment[n];
  }
  return {deflection, slope, shear, moment};
}

}  // namespace

void expand(const Piece& piece, double angular_frequency, Series& series) {
  const double a2 = piece.half * piece.half;
  const double squared = angular_frequency * angular_frequency;
  Equations equations{.piece = piece,
                      .sheared = piece.shear_compliance * piece.stiffness / a2,
                      .turned = squared * piece.rotary * a2 / piece.stiffness,
                      .moved = squared * piece.mass * a2 * a2 / piece.stiffness,
                      .series = series};
  series.deflection[0] = {1.0, 0.0, 0.0, 0.0};
  series.slope[0] = {0.0, 1.0, 0.0, 0.0};
  series.shear[0] = {0.0, 0.0, 1.0, 0.0};
  series.moment[0] = {0.0, 0.0, 0.0, 1.0};
  for (std::size_t n = 0; n + 1 < most_terms; ++n) {
    if (piece.uniform) {
      equations.step_uniform(n);
    } else if (n < 4) {
      equations.step<false>(n);
    } else {
      equations.step<true>(n);
    }
    series.terms = n + 2;
    // What four orders in a row leave out, all that follow leave out.
    if (n >= least_terms && n % 3 == 0 && last_four(series, n + 1) < negligible) break;
  }
  if (series.terms == most_terms)
    throw Error({}, "the tooth's shape is beyond this program's reach; taper less");
}

Ends ends(const Series& series) {
  const Sums even = every_other(series, 0);
  const Sums odd = every_other(series, 1);
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
