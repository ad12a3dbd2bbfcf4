// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "box/shop.h"
#include "draw/shape.h"
#include "draw/stamp.h"

namespace combwright::draw {

// Largest distance, in millimetres, between a drawn point and where the PDF has it: the PDF library
// keeps points in steps of 1/256 typographic point.
inline constexpr double pdf_rounding_mm = 0.0015;

// The drawing at true size on one page a little larger than itself.
std::string write_drawing_pdf(const Drawing& drawing, const PackStamp& stamp);

// The drawing at true size on sheets of the shop's paper, to be glued together: they overlap, share
// register marks, and each has its row and column, a key map and a 100 mm bar to check the printer
// by. Sheets that would be empty are left out. Throws Error if the paper is too small.
std::string write_tiled_pdf(const Drawing& drawing, const box::Paper& paper,
                            const PackStamp& stamp);

}  // namespace combwright::draw
