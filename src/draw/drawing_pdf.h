// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "box/shop.h"
#include "draw/pdf_pages.h"
#include "draw/shape.h"
#include "draw/stamp.h"

namespace combwright::draw {

// Largest distance, in millimetres, between a drawn point and where the PDF has it: the PDF library
// keeps points in steps of 1/256 typographic point.
inline constexpr double pdf_rounding_mm = 0.0015;

// White around the drawing, for what the sheet is and the bars to check the printer by.
inline constexpr double drawing_page_margin_mm = 20.0;

// What a PDF of the drawing says about itself.
PdfInfo info_of(const Drawing& drawing, const Stamp& stamp);

// The drawing at true size in the middle of one page a little larger than itself, with its title,
// the date, the checksum of the plan and two 100 mm bars around it.
std::string write_drawing_pdf(const Drawing& drawing, const Stamp& stamp);

// The drawing at true size on sheets of the shop's paper, to be cut and glued together, behind a
// page with their plan if there is more than one. Each sheet tells its row and column, where to cut
// and what to glue on, and has register marks, a key map and two 100 mm bars to check the printer
// by. Sheets that would be empty are left out. Throws Error if the paper is too small.
std::string write_tiled_pdf(const Drawing& drawing, const box::Paper& paper, const Stamp& stamp);

}  // namespace combwright::draw
