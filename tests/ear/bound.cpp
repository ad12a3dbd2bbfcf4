// SPDX-License-Identifier: Apache-2.0
#include "bound.h"

#include <algorithm>
#include <cmath>
#include <complex>

#include <Eigen/Dense>

#include "base/angle.h"

namespace combwright::ear::test {
namespace {

using Complex = std::complex<double>;

constexpr Eigen::Index unknowns = 4;
constexpr std::size_t block = 1024;

// Slopes of the sound by a ring's frequency in Hz, decay, logarithm of the amplitude, and phase.
void fill(Eigen::Ref<Eigen::MatrixXd> slopes, const Ring& ring, double rate_hz, std::size_t begin) {
  const Complex step(-ring.decay_per_s / rate_hz, two_pi * ring.frequency_hz / rate_hz);
  const Complex turn = std::exp(step);
  Complex value =
      std::polar(ring.amplitude, ring.phase_rad) * std::exp(step * static_cast<double>(begin));
  for (Eigen::Index i = 0; i < slopes.rows(); ++i) {
    const double t = static_cast<double>(begin + static_cast<std::size_t>(i)) / rate_hz;
    slopes(i, 0) = -two_pi * t * value.imag();
    slopes(i, 1) = -t * value.real();
    slopes(i, 2) = value.real();
    slopes(i, 3) = -value.imag();
    value *= turn;
  }
}

}  // namespace

Bound bound_of(const std::vector<Ring>& rings, double rate_hz, std::size_t samples, double noise) {
  const auto count = static_cast<Eigen::Index>(rings.size());
  Eigen::MatrixXd information = Eigen::MatrixXd::Zero(unknowns * count, unknowns * count);
  for (std::size_t begin = 0; begin < samples; begin += block) {
    const auto rows = static_cast<Eigen::Index>(std::min(block, samples - begin));
    Eigen::MatrixXd slopes(rows, unknowns * count);
    for (Eigen::Index r = 0; r < count; ++r)
      fill(slopes.middleCols(unknowns * r, unknowns), rings[static_cast<std::size_t>(r)], rate_hz,
           begin);
    information.noalias() += slopes.transpose() * slopes;
  }
  // Scaled, so that rings of unlike loudness don't spoil the inversion.
  const Eigen::VectorXd scale = information.diagonal().cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd covariance =
      noise * noise *
      (scale.asDiagonal() * (scale.asDiagonal() * information * scale.asDiagonal()).inverse() *
       scale.asDiagonal());
  Bound bound;
  for (Eigen::Index r = 0; r < count; ++r) {
    const Eigen::Index f = unknowns * r;
    bound.frequency_hz.push_back(std::sqrt(covariance(f, f)));
    bound.apart_hz.push_back(
        std::sqrt(std::max(0.0, covariance(f, f) + covariance(0, 0) - 2.0 * covariance(f, 0))));
  }
  return bound;
}

}  // namespace combwright::ear::test
