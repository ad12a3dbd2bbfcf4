// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"

namespace combwright::box {

// What a note of the scale is to sound at, 0..127: in the box's temperament, on its A4.
double target_hz(const Box& box, int midi);

// The same of a comb's tooth: the comb's offset in cents, and on top of that its beat.
double target_hz(const Box& box, const Comb& comb, int midi);

}  // namespace combwright::box
