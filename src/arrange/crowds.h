// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Improves choices that keep all rules where notes crowd: a few notes that are close in time, one
// of which earns less than it could, are chosen anew together as well as can be, while all others
// stay as they are. Goes over the tune until nothing improves any more or `nodes` partial answers
// were looked at. The choices keep all rules afterwards. True if anything improved.
bool improve_crowds(const Problem& problem, std::vector<Choice>& choices, std::size_t nodes);

}  // namespace combwright::arrange
