// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "draw/shape.h"

namespace combwright::draw {

// The drawing as SVG at true size: width and height in millimetres, one user unit a millimetre,
// one group for each layer with the layer's name as id, and the drawing's title as <title>. SVG
// counts y downwards, so every y is written with its sign turned; there are no transforms.
std::string write_svg(const Drawing& drawing);

}  // namespace combwright::draw
