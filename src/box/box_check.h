// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "box/box.h"
#include "box/key_reader.h"

namespace combwright::box {

// What no box can be, whatever the maker means: throws Error at the key to look at first.
void check_whole(const Box& box, const Places& places);

// What a box can be but should not without a reason.
Findings find_doubts(const Box& box);

}  // namespace combwright::box
