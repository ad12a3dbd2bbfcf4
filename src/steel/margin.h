// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "box/box.h"
#include "steel/comb.h"

namespace combwright::steel {

// A warning if the teeth are aimed less flat than their pitch may be off (95 %), so that some may
// come off the saw sharp.
Findings margin_findings(const box::Comb& comb, const CutSpread& spread);

}  // namespace combwright::steel
