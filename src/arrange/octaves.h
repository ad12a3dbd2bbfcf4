// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Plays notes that sound an octave away on the best tooth of those free at their moment: below the
// melody rather than above it, then one octave away rather than two. What is earned stays as it is
// and all rules are kept.
void prefer_near_octaves(const Problem& problem, std::vector<Choice>& choices);

}  // namespace combwright::arrange
