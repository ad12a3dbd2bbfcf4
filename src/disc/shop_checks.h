// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "box/box.h"
#include "box/shop.h"

namespace combwright::disc {

// Force to shear one hit out of the sheet: perimeter * thickness * shear strength (common
// sheet-metal practice, no source).
double stroke_force_n(const box::Box& box, const box::Shop& shop);

// Whether this workshop can punch this box's discs: force, depth of the stroke, clearance over the
// sheet, and a sheet of the right thickness, where the shop names any. The stroke must go as deep
// as the projection stands out; from the top of the sheet it should go by the projection's height
// and one to three thicknesses of the sheet (common practice, no source).
Findings check_shop(const box::Box& box, const box::Shop& shop);

}  // namespace combwright::disc
