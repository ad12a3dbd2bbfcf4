// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>

#include <Eigen/Core>

#include "steel/solver/beam.h"

// The exact motion of one piece at one angular frequency, as power series about its middle.
//
// With t from -1 to 1 and moment and shear force measured by the piece's own stiffness and half
// length, the equations of Timoshenko's beam are
//     w' = slope + a shear / g(t)      moment' = -shear - b r(t) slope
//     slope' = moment / q(t)           shear' = -c m(t) w
// with polynomials g, r, m and the ratio q of two polynomials; Euler and Bernoulli's beam has a = b
// = 0. Each coefficient of the series follows from those before it.
namespace combwright::steel {

// Deflection, slope, shear force, bending moment.
using State = Eigen::Vector4d;
// Two solutions side by side: all that the root lets happen.
using Pair = Eigen::Matrix<double, 4, 2>;
// One coefficient of four solutions.
using Four = Eigen::Array4d;

// Series are cut where what follows is below the rounding of doubles; pieces from cut() need fewer.
inline constexpr std::size_t most_terms = 96;

// Column j of every coefficient belongs to the solution that is the j-th unit state in the middle.
struct Series {
  // Sets no coefficient: filling all of them with 0 would take as long as finding them.
  Series() {}  // NOLINT(modernize-use-equals-default)

  std::size_t terms = 0;
  alignas(64) std::array<Four, most_terms> deflection;
  alignas(64) std::array<Four, most_terms> slope;
  alignas(64) std::array<Four, most_terms> shear;
  alignas(64) std::array<Four, most_terms> moment;
  // The four solutions, as columns, at the ends nearer the root and nearer the tip.
  Eigen::Matrix<double, 4, 4, Eigen::RowMajor> inner;
  Eigen::Matrix<double, 4, 4, Eigen::RowMajor> outer;
};

// Fills `series` with the motion of a piece at an angular frequency. Throws Error if it does not
// end within most_terms.
void expand(const Piece& piece, double angular_frequency, Series& series);

// Factors that take a state in the beam's units to the piece's own.
inline State own_units(const Piece& piece) {
  const double a = piece.half;
  const double b = a * a / piece.stiffness;
  return {1.0, a, a * b, b};
}

// The inverse of a matrix whose columns are solutions that were the unit states elsewhere in the
// piece. What one solution's forces do along another's displacements stays the same along the beam
// (Betti), so that the inverse needs no division.
template <class Solutions>
Eigen::Matrix4d inverse(const Solutions& solutions) {
  Eigen::Matrix4d result;
  result.topLeftCorner<2, 2>() = solutions.template bottomRightCorner<2, 2>().transpose();
  result.topRightCorner<2, 2>() = -solutions.template topRightCorner<2, 2>().transpose();
  result.bottomLeftCorner<2, 2>() = -solutions.template bottomLeftCorner<2, 2>().transpose();
  result.bottomRightCorner<2, 2>() = solutions.template topLeftCorner<2, 2>().transpose();
  return result;
}

}  // namespace combwright::steel
