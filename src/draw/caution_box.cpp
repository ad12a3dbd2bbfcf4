// SPDX-License-Identifier: Apache-2.0
#include "draw/caution_box.h"

#include <cairo.h>

namespace combwright::draw {

void add_caution_box(PackDocument& document, const std::vector<std::string>& cautions) {
  constexpr double inset_mm = 4.0;
  constexpr double head_mm = 8.0;
  auto& pages = document.pages();
  const double width = document.width() - 2.0 * inset_mm;
  double height = head_mm + inset_mm;
  for (const auto& text : cautions) height += pages.paragraph_height(width, text, body) + 1.2;
  document.move_down(3.0);
  document.need(height);
  set_colour(pages, alarm);
  cairo_set_line_width(pages.cairo(), 0.5);
  cairo_rectangle(pages.cairo(), document.left(), document.y(), document.width(), height);
  cairo_stroke(pages.cairo());
  double y = document.y() + head_mm;
  pages.text(document.left() + inset_mm, y - 2.0, "CAUTION", {Face::bold, 3.6, alarm, Align::left});
  for (const auto& text : cautions) {
    y += pages.paragraph(document.left() + inset_mm, y, width, text, body) + 1.2;
  }
  document.move_down(height);
}

}  // namespace combwright::draw
