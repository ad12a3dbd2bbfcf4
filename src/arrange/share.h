// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

// Lets duplicates of a note take turns, the one that has rested longest first: each pluck rings on
// until its tooth is damped for the next, and the wear is shared. Fates and times stay as they are,
// and all rules are kept; where taking turns would break one, the teeth of that note stay as well.
void share_duplicates(const Problem& problem, std::vector<Choice>& choices);

}  // namespace combwright::arrange
