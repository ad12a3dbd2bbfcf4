// SPDX-License-Identifier: Apache-2.0
#include "draw/fate_mark.h"

#include <algorithm>

#include <cairo.h>

namespace combwright::draw {
namespace {

// Points to the left; its upright side is at x.
void fill_wedge(PdfPages& pages, double x_mm, double y_mm, double height_mm) {
  auto* cairo = pages.cairo();
  cairo_move_to(cairo, x_mm, y_mm);
  cairo_rel_line_to(cairo, -height_mm, height_mm / 2.0);
  cairo_line_to(cairo, x_mm, y_mm + height_mm);
  cairo_close_path(cairo);
  cairo_fill(cairo);
}

void stroke_hollow(PdfPages& pages, double x_mm, double y_mm, double width_mm, double height_mm) {
  auto* cairo = pages.cairo();
  cairo_set_line_width(cairo, 0.2);
  cairo_rectangle(cairo, x_mm, y_mm, width_mm, height_mm);
  cairo_move_to(cairo, x_mm, y_mm + height_mm);
  cairo_line_to(cairo, x_mm + std::min(width_mm, height_mm * 1.5), y_mm);
  cairo_stroke(cairo);
}

}  // namespace

Colour colour_of(arrange::Fate fate) {
  switch (fate) {
    case arrange::Fate::kept:
      return accent;
    case arrange::Fate::moved:
      return {0.36, 0.23, 0.60};
    case arrange::Fate::octave:
      return {0.72, 0.45, 0.05};
    case arrange::Fate::dropped:
      break;
  }
  return alarm;
}

void mark_fate(PdfPages& pages, arrange::Fate fate, double x_mm, double y_mm, double width_mm,
               double height_mm) {
  const auto colour = colour_of(fate);
  switch (fate) {
    case arrange::Fate::kept:
      fill_rectangle(pages, x_mm, y_mm, width_mm, height_mm, colour);
      break;
    case arrange::Fate::moved:
      fill_rectangle(pages, x_mm, y_mm, width_mm, height_mm, colour);
      fill_wedge(pages, x_mm - 0.3, y_mm, height_mm);
      break;
    case arrange::Fate::octave:
      set_colour(pages, colour);
      stroke_hollow(pages, x_mm, y_mm, width_mm, height_mm);
      break;
    case arrange::Fate::dropped:
      stroke_line(pages, x_mm, y_mm, x_mm + height_mm, y_mm + height_mm, 0.3, colour);
      stroke_line(pages, x_mm, y_mm + height_mm, x_mm + height_mm, y_mm, 0.3, colour);
      break;
  }
}

}  // namespace combwright::draw
