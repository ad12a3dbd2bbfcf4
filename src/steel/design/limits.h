// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/finding.h"
#include "steel/design/bench.h"

// The rules that every tooth of a comb is to keep.
namespace combwright::steel {

// How far a measured tooth breaks its rules, each in shares of its bound; 0 if it keeps all.
double breach(const Bench& bench, const CombTooth& tooth);

// Each rule that holds for any of the teeth, with the tooth that comes nearest to breaking it.
std::vector<CombLimit> limits(const Bench& bench, const std::vector<CombTooth>& teeth);

// A fault for each rule that is broken.
Findings broken(const Bench& bench, const std::vector<CombTooth>& teeth);

}  // namespace combwright::steel
