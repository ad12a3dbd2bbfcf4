// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/solver/beam.h"

namespace combwright::steel {

// Cuts the pieces of a beam until each is so short that, clamped at both ends, it has at most one
// mode below the angular frequency `top`, and so little tapered that its series converge quickly.
void cut(Beam& beam, double top);

}  // namespace combwright::steel
