// SPDX-License-Identifier: Apache-2.0
#include "draw/paint.h"

#include <cairo.h>

#include "base/angle.h"
#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

struct Stroke {
  Colour colour;
  double width_mm = 0.15;
};

Stroke stroke_of(Layer layer) {
  switch (layer) {
    case Layer::projections:
      return {ink, 0.1};
    case Layer::axes:
    case Layer::marks:
      return {accent, 0.1};
    case Layer::text:
      return {faint, 0.1};
    case Layer::edge:
    case Layer::holes:
      break;
  }
  return {ink, 0.2};
}

class Painter {
 public:
  Painter(PdfPages& pages, const Placement& placement) : pages_(pages), placement_(placement) {}

  void begin(Layer layer, Ink inking) {
    constexpr double fine_mm = 0.06;
    stroke_ = stroke_of(layer);
    if (inking == Ink::fine && layer != Layer::text) stroke_.width_mm = fine_mm;
    fill_ = layer == Layer::projections && inking == Ink::solid;
    set_colour(pages_, stroke_.colour);
    cairo_set_line_width(cairo(), stroke_.width_mm);
  }

  void operator()(const Polyline& line) {
    cairo_new_path(cairo());
    for (const auto& at : line.points) cairo_line_to(cairo(), x(at), y(at));
    if (line.closed) cairo_close_path(cairo());
    draw();
  }

  void operator()(const Circle& circle) {
    cairo_new_path(cairo());
    cairo_arc(cairo(), x(circle.centre), y(circle.centre), scaled(circle.radius), 0.0, two_pi);
    cairo_close_path(cairo());
    draw();
  }

  void operator()(const Line& line) { (*this)(Polyline{{line.from, line.to}, false}); }

  // A small cross, so that the point can be seen and hit with a centre punch.
  void operator()(const Dot& dot) {
    constexpr double arm_mm = 0.3;
    cairo_new_path(cairo());
    cairo_move_to(cairo(), x(dot.at) - arm_mm, y(dot.at));
    cairo_rel_line_to(cairo(), 2.0 * arm_mm, 0.0);
    cairo_move_to(cairo(), x(dot.at), y(dot.at) - arm_mm);
    cairo_rel_line_to(cairo(), 0.0, 2.0 * arm_mm);
    cairo_stroke(cairo());
  }

  void operator()(const Text& text) {
    TextStyle style{Face::sans, scaled(text.height) / capital_height, stroke_.colour, Align::left};
    if (text.anchor == Anchor::middle) style.align = Align::centre;
    if (text.anchor == Anchor::end) style.align = Align::right;
    pages_.text(x(text.at), y(text.at), dashed(text.text), style);
  }

 private:
  cairo_t* cairo() { return pages_.cairo(); }
  double scaled(std::int64_t length) const { return to_mm(length) * placement_.scale; }
  double x(Point at) const { return placement_.origin_x_mm + scaled(at.x); }
  double y(Point at) const { return placement_.origin_y_mm - scaled(at.y); }

  void draw() {
    if (fill_) {
      cairo_fill(cairo());
    } else {
      cairo_stroke(cairo());
    }
  }

  PdfPages& pages_;
  Placement placement_;
  Stroke stroke_;
  bool fill_ = false;
};

}  // namespace

void paint(PdfPages& pages, const Drawing& drawing, const Box2& window, const Placement& placement,
           Ink inking) {
  Painter painter(pages, placement);
  for (const auto& [layer, shape] : drawing.items) {
    if (inking == Ink::solid && (layer == Layer::axes || layer == Layer::text)) continue;
    if (!bounds(shape).overlaps(window)) continue;
    painter.begin(layer, inking);
    std::visit([&painter](const auto& each) { painter(each); }, shape);
  }
}

}  // namespace combwright::draw
