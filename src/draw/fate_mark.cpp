// SPDX-License-Identifier: Apache-2.0
#include "draw/fate_mark.h"

#include <algorithm>

#include <cairo.h>

namespace combwright::draw {

Colour colour_of(arrange::Fate fate) {
  switch (fate) {
    case arrange::Fate::kept:
      return accent;
    case arrange::Fate::moved:
      return {0.16, 0.50, 0.42};
    case arrange::Fate::octave:
      return {0.72, 0.45, 0.05};
    case arrange::Fate::dropped:
      break;
  }
  return alarm;
}

void mark_fate(PdfPages& pages, arrange::Fate fate, double x_mm, double y_mm, double width_mm,
               double height_mm) {
  auto* cairo = pages.cairo();
  set_colour(pages, colour_of(fate));
  cairo_set_line_width(cairo, 0.2);
  const double right = x_mm + width_mm;
  const double below = y_mm + height_mm;
  switch (fate) {
    case arrange::Fate::kept:
      cairo_rectangle(cairo, x_mm, y_mm, width_mm, height_mm);
      cairo_fill(cairo);
      break;
    case arrange::Fate::moved:
      cairo_rectangle(cairo, x_mm, y_mm, width_mm, height_mm);
      cairo_move_to(cairo, x_mm - 0.3, y_mm);
      cairo_rel_line_to(cairo, -height_mm, height_mm / 2.0);
      cairo_line_to(cairo, x_mm - 0.3, below);
      cairo_close_path(cairo);
      cairo_fill(cairo);
      break;
    case arrange::Fate::octave:
      cairo_rectangle(cairo, x_mm, y_mm, width_mm, height_mm);
      cairo_move_to(cairo, x_mm, below);
      cairo_line_to(cairo, std::min(right, x_mm + height_mm * 1.5), y_mm);
      cairo_stroke(cairo);
      break;
    case arrange::Fate::dropped:
      cairo_set_line_width(cairo, 0.3);
      cairo_move_to(cairo, x_mm, y_mm);
      cairo_rel_line_to(cairo, height_mm, height_mm);
      cairo_move_to(cairo, x_mm, below);
      cairo_rel_line_to(cairo, height_mm, -height_mm);
      cairo_stroke(cairo);
      break;
  }
}

}  // namespace combwright::draw
