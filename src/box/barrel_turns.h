// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"

namespace combwright::box {

// Coils that a strip of that length makes, wound tight on a core of radius `core_m`: the spiral of
// its middle line, to 1e-7 coils. With a negative thickness it lies inside a drum of that radius
// instead.
double coils(double core_m, double thickness_m, double length_m);

// Turns of the barrel between wound up tight and lying on the wall. The area rule of the books
// counts the coils by the strip's faces instead of its middle, and so gives half a turn too many.
double barrel_turns(const Spring& spring);

// A quarter of the turns that are not used; 0 if more are used than there are.
double default_turns_left_full(const Spring& spring);

}  // namespace combwright::box
