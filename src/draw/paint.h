// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "draw/pdf_pages.h"
#include "draw/shape.h"

namespace combwright::draw {

// Where a drawing lies on a page: its origin on the page, and page millimetres for a drawn one.
struct Placement {
  double origin_x_mm = 0.0;
  double origin_y_mm = 0.0;
  double scale = 1.0;
};

// `lines`: projections in outline with their axis points. `solid`: filled, to show from afar,
// without those points and without texts, which would be too small to read. `fine`: as lines, but
// edges so thin that the two walls of a cut of 0.3 mm stay apart.
enum class Ink { lines, solid, fine };

// Paints the shapes that touch `window` (lattice coordinates) with y turned up.
void paint(PdfPages& pages, const Drawing& drawing, const Box2& window, const Placement& placement,
           Ink inking = Ink::lines);

}  // namespace combwright::draw
