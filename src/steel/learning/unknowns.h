// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include <Eigen/Core>

#include "box/box.h"
#include "steel/comb.h"

namespace combwright::steel {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

// What is not well known of a box's combs: each comb's root yield, then the logarithms of the
// steel's modulus and of the weights' density against what the box says.
struct Unknowns {
  std::size_t combs = 0;
  Vector before;       // by the box
  Vector spread;       // one standard deviation; 0 for what the box declares exact
  Matrix correlation;  // between them

  Eigen::Index size() const { return before.size(); }
  Eigen::Index modulus() const { return static_cast<Eigen::Index>(combs); }
  Eigen::Index density() const { return modulus() + 1; }

  // `share` counts each unknown in standard deviations from what the box says.
  Vector at(const Vector& share) const { return before + spread.cwiseProduct(share); }
};

Unknowns unknowns_of(const box::Box& box);

// The as-cut pitch of a designed tooth if these values were true: its shape stays.
double pitch_hz(const CombTooth& designed, std::size_t comb, const Unknowns& unknowns,
                const Vector& at);

// Cents of that pitch for one standard deviation of each unknown, by central differences.
Vector slopes_cents(const CombTooth& designed, std::size_t comb, const Unknowns& unknowns,
                    const Vector& at);

}  // namespace combwright::steel
