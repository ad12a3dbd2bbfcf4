// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"
#include "box/keys.h"

// The table of box_keys.h in parts, in its order.
namespace combwright::box {

using BoxKeys = std::vector<Key<Box>>;

BoxKeys top_keys();    // before the first section
BoxKeys disc_keys();   // disc, projection
BoxKeys track_keys();  // tracks, star_wheel
BoxKeys comb_keys();   // comb, scale, steel, lead, damper
BoxKeys motor_keys();  // motor, spring
BoxKeys train_keys();  // train, governor
BoxKeys case_keys();   // hold_down, cabinet, soundboard

}  // namespace combwright::box
