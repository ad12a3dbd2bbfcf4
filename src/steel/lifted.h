// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/tooth.h"

namespace combwright::steel {

// The greatest bending stress (Pa) of the steel's surface at positions in m from the root, while a
// force at the tip lifts the tooth. Under a weight that bends with the steel both are one section
// about their common neutral axis; under one that is rigid the steel bears nothing. No fillet is
// counted. At the root of a tooth without a weight there: 6 F L / (b h^2).
std::vector<double> lifted_stress_pa(const Tooth& tooth, double tip_force_n,
                                     const std::vector<double>& positions_m);

}  // namespace combwright::steel
