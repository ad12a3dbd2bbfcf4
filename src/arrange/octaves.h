// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Plays notes that sound an octave away on the best tooth of those free at their moment: below the
// melody rather than above it, then one octave away rather than two. What is earned stays as it is
// and all rules are kept.
void prefer_near_octaves(const Problem& problem, std::vector<Choice>& choices);

// The demands outside the melody that an octave lifts above the melody's note of the same onset.
std::vector<std::size_t> lifted_above_melody(const Problem& problem,
                                             const std::vector<Choice>& choices);

}  // namespace combwright::arrange
