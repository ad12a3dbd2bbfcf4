// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/finding.h"

namespace combwright::draw {

// "1 fault, 2 warnings, 12 notes"; what there is none of is left out; "none".
std::string finding_counts(const Findings& findings);

// The text without the options of the program, which mean nothing at the bench: "(--name)" and
// "with --name and --name" are left out, of any other the bare name stays. Two hyphens
// without a name stay too.
std::string on_paper(std::string_view text);

// What a finding says on paper: where, what and the remedy.
std::string finding_words(const Finding& finding);

}  // namespace combwright::draw
