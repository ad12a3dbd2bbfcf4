// SPDX-License-Identifier: Apache-2.0
#include "steel/learning/robust_fit.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Cholesky>

#include "base/angle.h"
#include "steel/learning/bounded_minimum.h"

namespace combwright::steel {
namespace {

constexpr double limit = 1.345;  // 95 % as efficient as least squares where nothing is off

// The mean of min(|Z|, limit)^2 for a standard normal Z.
double consistency() {
  const double beyond = std::erfc(limit / std::sqrt(2.0));  // of |Z|
  const double density = std::exp(-0.5 * limit * limit) / std::sqrt(two_pi);
  return 1.0 - beyond - 2.0 * limit * density + limit * limit * beyond;
}

struct Round {
  Matrix normal;  // second derivative of what is minimised
  Vector pull;
};

Round weighed(const LinearReadings& readings, const Matrix& prior, const Vector& weight,
              const Vector& variance) {
  const Vector share = weight.cwiseQuotient(variance);
  return {prior + readings.slope.transpose() * share.asDiagonal() * readings.slope,
          readings.slope.transpose() * share.cwiseProduct(readings.value)};
}

}  // namespace

RobustFit robust_fit(const LinearReadings& readings) {
  assert(readings.scatter > 0.0);
  constexpr int most_rounds = 20'000;
  constexpr double settled = 1e-11;
  const double beta = consistency();
  const Eigen::Index count = readings.value.size();
  const Eigen::Index size = readings.slope.cols();
  const Matrix prior = readings.correlation.llt().solve(Matrix::Identity(size, size));
  const Vector error_squared = readings.error.cwiseAbs2();
  RobustFit fit{.at = Vector::Zero(size),
                .left = readings.value,
                .weight = Vector::Ones(count),
                .scatter = readings.scatter};
  for (int round = 0; round < most_rounds; ++round) {
    const double scatter_squared = fit.scatter * fit.scatter;
    const Vector variance = error_squared.array() + scatter_squared;
    fit.weight = (limit * variance.cwiseSqrt().cwiseQuotient(fit.left.cwiseAbs())).cwiseMin(1.0);
    const auto [normal, pull] = weighed(readings, prior, fit.weight, variance);
    const Vector at = bounded_minimum(normal, pull, readings.least, readings.greatest);
    fit.covariance = normal.llt().solve(Matrix::Identity(size, size));
    fit.left = readings.value - readings.slope * at;

    double squares = scatter_readings * readings.scatter * readings.scatter;
    for (Eigen::Index i = 0; i < count; ++i) {
      const double q = scatter_squared / variance[i];
      const double weighed_left = std::min(std::abs(fit.left[i]), limit * std::sqrt(variance[i]));
      const Vector slope = readings.slope.row(i);
      squares += q * q *
                     (weighed_left * weighed_left / beta +
                      fit.weight[i] * slope.dot(fit.covariance * slope)) +
                 q * error_squared[i];
    }
    const double scatter = std::sqrt(squares / (scatter_readings + static_cast<double>(count)));
    const bool done = (at - fit.at).cwiseAbs().maxCoeff() < settled &&
                      std::abs(scatter - fit.scatter) < settled * scatter;
    fit.at = at;
    fit.scatter = scatter;
    if (done) break;
  }
  return fit;
}

}  // namespace combwright::steel
