// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"
#include "box/keys.h"

// The table of box_keys.h in parts, in its order.
namespace combwright::box {

using BoxKeys = std::vector<Key<Box>>;

BoxKeys top_keys();         // before the first section
BoxKeys disc_keys();        // disc, projection
BoxKeys track_keys();       // tracks, star_wheel
BoxKeys comb_keys();        // comb, first part
BoxKeys tooth_keys();       // second: the teeth
BoxKeys comb_limit_keys();  // third: what they keep to
BoxKeys scale_keys();       // scale, first part
BoxKeys material_keys();    // rest of scale, steel, lead
BoxKeys learnt_keys();      // learnt
BoxKeys damper_keys();      // damper
BoxKeys motor_keys();       // motor
BoxKeys spring_keys();      // spring
BoxKeys train_keys();       // train, governor
BoxKeys friction_keys();    // friction
BoxKeys hold_down_keys();   // hold_down
BoxKeys case_keys();        // cabinet, soundboard, first part
BoxKeys wood_keys();        // rest of soundboard

}  // namespace combwright::box
