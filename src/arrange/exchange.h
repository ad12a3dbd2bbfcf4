// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Improves choices that keep all rules by exchanges: a note that earns less than it could is put
// where it earns more, whatever stands in its way gives way and looks for another place, and the
// whole is kept if more is earned in the end. Stops when nothing improves any more or after
// `attempts` places were looked at. The choices keep all rules afterwards.
void improve_by_exchange(const Problem& problem, std::vector<Choice>& choices, int attempts);

}  // namespace combwright::arrange
