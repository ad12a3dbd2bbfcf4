// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/learning/unknowns.h"

namespace combwright::steel {

// Where z'Az / 2 - g'z is least among all z from `least` to `greatest` (infinite for an unknown
// without bounds): of all ways to hold unknowns at a bound and solve for the others, the best that
// stays within the bounds. A is positive definite; few unknowns have bounds, since the ways are
// 3 to the power of their number.
Vector bounded_minimum(const Matrix& a, const Vector& g, const Vector& least,
                       const Vector& greatest);

}  // namespace combwright::steel
