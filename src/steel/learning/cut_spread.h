// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "box/box.h"
#include "steel/comb.h"

namespace combwright::steel {

// How well the as-cut pitch of a comb's designed teeth is known by the spreads, their correlation
// and the scatter that the box gives: the spread of s'z for the slopes s of a tooth's pitch.
CutSpread cut_spread(const box::Box& box, std::size_t comb, const std::vector<CombTooth>& teeth);

}  // namespace combwright::steel
