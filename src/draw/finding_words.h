// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/finding.h"

namespace combwright::draw {

// "1 fault, 2 warnings, 12 notes"; what there is none of is left out; "none".
std::string finding_counts(const Findings& findings);

// What a finding says on paper: where, what and the remedy.
std::string finding_words(const Finding& finding);

}  // namespace combwright::draw
