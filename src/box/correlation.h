// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"

namespace combwright::box {

using SquareMatrix = std::vector<std::vector<double>>;

// The correlation of the root yields, comb by comb, the modulus and the weights' density by
// Learnt::correlation, in full: symmetric, with ones on its diagonal.
SquareMatrix correlation(const Box& box);

// Whether a symmetric matrix is positive definite, with a margin that rounding can't cross: its
// Cholesky factor exists and has no pivot below 1e-9.
bool positive_definite(SquareMatrix matrix);

}  // namespace combwright::box
