// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Why each demand has its fate, in words for the maker; empty for kept notes. The pitches are those
// of the comb; where the tune is transposed, the written one is named as well.
std::vector<std::string> reasons(const Problem& problem, const std::vector<Choice>& choices,
                                 int transpose_semitones);

// What keeps a demand that is held from what it is held to, in the same words.
std::string what_hinders(std::size_t demand, const Problem& problem,
                         const std::vector<Choice>& choices, int transpose_semitones);

}  // namespace combwright::arrange
