// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "draw/pack_document.h"

namespace combwright::draw {

// The punch as set up and at rest before the first hit, seen from above, and its tool enlarged.
void add_setup_sketch(PackDocument& document, const PackInput& input);

}  // namespace combwright::draw
