// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "draw/shape.h"

namespace combwright::draw {

// The drawing as DXF R12 ASCII (AC1009), in millimetres with four decimals, one DXF layer for each
// Layer. R12 has no variable for the unit; a comment (group 999) says it. Lines of the file are
// ASCII: text beyond it is written as \U+XXXX, which readers have decoded since the release after
// R12; beyond the basic plane as '?'. A text is cut to the 255 bytes that R12 allows.
std::string write_dxf(const Drawing& drawing);

}  // namespace combwright::draw
