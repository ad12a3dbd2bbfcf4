// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "app/json.h"
#include "draw/shape.h"

namespace combwright::app {

// A drawing for a screen, in millimetres with y up: `polylines` ("layer", "points" as x, y, x, y,
// ..., "closed"), `circles` ("layer", "x", "y", "radius"), `lines` ("layer", "points"), each in the
// order of the drawing; texts and single points are left out.
Json drawing_json(const draw::Drawing& drawing);

}  // namespace combwright::app
