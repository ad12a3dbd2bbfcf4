// SPDX-License-Identifier: Apache-2.0
#include "draw/setup_sketch.h"

#include <algorithm>
#include <string>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/disc_drawing.h"
#include "draw/disc_view.h"
#include "draw/setup.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr TextStyle note_style{Face::sans, note_size_mm, ink, Align::left};
constexpr TextStyle centred{Face::sans, note_size_mm, ink, Align::centre};
constexpr TextStyle tool_note{Face::sans, note_size_mm, accent, Align::left};
constexpr TextStyle head{Face::bold, note_size_mm, ink, Align::left};

// Where things stand on the page, all in millimetres.
struct Layout {
  double disc_radius = 0.0;
  double disc_x = 0.0;
  double disc_y = 0.0;
  double tool_left = 0.0;
  double tool_top = 0.0;
  double height = 0.0;
};

constexpr double around_disc_mm = 11.0;  // for arrow and words above it
constexpr double beside_disc_mm = 24.0;  // for the slide and the tool at rest
constexpr double tool_height_mm = 50.0;
constexpr double tool_width_mm = 78.0;

// Side by side on wide paper, one under the other on narrow.
Layout layout_of(const PackDocument& document) {
  const bool wide = document.width() >= 150.0;
  Layout at;
  at.disc_radius = wide ? 33.0 : 27.0;
  at.disc_x = document.left() + at.disc_radius + 1.0;
  at.disc_y = document.y() + at.disc_radius + around_disc_mm;
  const double disc_height = 2.0 * at.disc_radius + around_disc_mm + 3.0;
  at.tool_left = wide ? document.right() - tool_width_mm : document.left();
  at.tool_top = wide ? document.y() : document.y() + disc_height;
  at.height = wide ? std::max(disc_height, tool_height_mm) : disc_height + tool_height_mm;
  return at;
}

bool is_clockwise(const PackInput& input) {
  return input.box.disc.turning == box::Turning::clockwise;
}

// A line with a tick at either end.
void measure(PdfPages& pages, double x0, double y0, double x1, double y1) {
  constexpr double tick = 1.0;
  const bool level = y0 == y1;
  stroke_line(pages, x0, y0, x1, y1, 0.15, faint);
  for (const auto& [x, y] : {std::pair{x0, y0}, {x1, y1}}) {
    stroke_line(pages, level ? x : x - tick, level ? y - tick : y, level ? x : x + tick,
                level ? y + tick : y, 0.15, faint);
  }
}

// Slide, and the tool beyond the edge (larger than it is), its leading edge on the slide's line.
void draw_slide(PdfPages& pages, const PackInput& input, const Layout& at) {
  constexpr double tool_width = 3.0;
  constexpr double tool_length = 4.4;
  constexpr double gap = 1.5;
  const double tool_x = at.disc_x + at.disc_radius + gap;
  const double end_x = at.disc_x + at.disc_radius + beside_disc_mm - 3.0;
  stroke_line(pages, at.disc_x, at.disc_y, end_x, at.disc_y, 0.25, accent);
  const bool up = is_clockwise(input);
  fill_rectangle(pages, tool_x, up ? at.disc_y - tool_length : at.disc_y, tool_width, tool_length,
                 accent);
  const double words_y = at.disc_y + (up ? 3.8 : -6.0);
  pages.text(tool_x, words_y, "X slide", tool_note);
  pages.text(tool_x, words_y + 3.6, fmt::format("A 0, X {:.5g}", rest_radius_m(input.box) * 1e3),
             tool_note);
  pages.text(tool_x + tool_width + 1.5, up ? at.disc_y - 1.6 : at.disc_y + 3.4, "tool", tool_note);
}

void label_drive_holes(PdfPages& pages, const box::Disc& disc, const Layout& at, double scale) {
  if (disc.drive_hole_count == 0) return;
  const double reach = (disc.drive_hole_radius_m + disc.drive_hole_diameter_m / 2.0) * 1e3 * scale;
  pages.text(at.disc_x - reach - 1.5, at.disc_y - 3.2,
             counted(static_cast<std::size_t>(disc.drive_hole_count), "drive hole"),
             {Face::sans, note_size_mm, ink, Align::right});
}

void draw_table(PdfPages& pages, const PackInput& input, const Layout& at) {
  const double scale = at.disc_radius / (input.box.disc.diameter_m * 500.0);
  const DiscView view{pages, input.box, {at.disc_x, at.disc_y, scale}};
  tint_start_gap(view);
  const auto blank = draw_blank(input.box);
  paint(pages, blank, bounds(blank), view.placement, Ink::solid);
  mark_angles(view, 90, -5.5);
  label_drive_holes(pages, input.box.disc, at, scale);
  pages.text(at.disc_x + at.disc_radius - 2.5, at.disc_y + (is_clockwise(input) ? 3.4 : -1.4),
             "start line, 0°", {Face::sans, note_size_mm, ink, Align::right});
  draw_arrow(view, at.disc_radius + 2.6, 130.0, 50.0, accent);
  pages.text(at.disc_x, at.disc_y - at.disc_radius - 6.0, "the table, clockwise as A grows",
             {Face::sans, note_size_mm, accent, Align::centre});
  pages.text(at.disc_x, at.disc_y + at.disc_radius * 0.45,
             fmt::format("turns {}", box::to_text(input.box.disc.turning)), centred);
  pages.text(at.disc_x, at.disc_y + at.disc_radius * 0.45 + 3.4, "in the box", centred);
}

// Where the enlarged tool lies; `side` points from it to the other side of the slide's line, down
// the page or up.
struct ToolPlace {
  double left = 0.0;
  double width = 0.0;
  double length = 0.0;
  double slide_y = 0.0;
  double side = 1.0;

  double middle() const { return left + width / 2.0; }
  double top() const { return side > 0.0 ? slide_y - length : slide_y; }
  double far_end() const { return slide_y - side * length; }
  // The base line of letters whose near side is this far from the slide's line.
  double base_line(double from_slide) const {
    return slide_y + side * from_slide + (side > 0.0 ? 0.73 * note_size_mm : 0.0);
  }
};

ToolPlace place_tool(const PackInput& input, const Layout& at) {
  constexpr double largest = 20.0;
  constexpr double from_left = 16.0;
  const auto& projection = input.box.projection;
  const double scale = largest / std::max(projection.length_m, projection.width_m);
  const bool up = is_clockwise(input);
  return {at.tool_left + from_left, projection.width_m * scale, projection.length_m * scale,
          at.tool_top + (up ? 36.0 : 22.0), up ? 1.0 : -1.0};
}

void measure_tool(PdfPages& pages, const box::Projection& projection, const ToolPlace& tool) {
  constexpr double off = 2.0;
  const double across_y = tool.far_end() - tool.side * off;
  measure(pages, tool.left, across_y, tool.left + tool.width, across_y);
  pages.text(tool.middle(), across_y + (tool.side > 0.0 ? -1.6 : 3.6),
             fmt::format("{} along the radius", to_text(projection.width_m, Dimension::length)),
             centred);
  const double along_x = tool.left + tool.width + off;
  measure(pages, along_x, tool.top(), along_x, tool.top() + tool.length);
  pages.text(along_x + 2.0, tool.top() + tool.length / 2.0 + 1.0,
             fmt::format("{} along the track", to_text(projection.length_m, Dimension::length)),
             note_style);
}

// The tool from above, its sides to one scale, with what X and A are set by.
void draw_tool(PdfPages& pages, const PackInput& input, const Layout& at) {
  constexpr double mark = 2.5;
  const auto tool = place_tool(input, at);
  const double words_x = tool.left + tool.width + 12.0;
  pages.text(at.tool_left, at.tool_top + 5.0, "The tool from above, enlarged", head);
  fill_rectangle(pages, tool.left, tool.top(), tool.width, tool.length, accent);
  measure_tool(pages, input.box.projection, tool);
  stroke_line(pages, at.tool_left, tool.slide_y, words_x - 1.0, tool.slide_y, 0.25, accent);
  pages.text(at.tool_left, tool.base_line(1.6), "to the centre", note_style);
  pages.text(words_x, tool.slide_y - 0.4, "leading edge, on the", tool_note);
  pages.text(words_x, tool.slide_y + 3.2, "line of the X slide", tool_note);
  stroke_line(pages, tool.middle(), tool.slide_y - mark, tool.middle(), tool.slide_y + mark, 0.35,
              alarm);
  stroke_line(pages, tool.middle(), tool.slide_y, tool.middle(),
              tool.slide_y + tool.side * 3.0 * mark, 0.15, alarm);
  pages.text(tool.middle(), tool.base_line(3.0 * mark + 1.0), "X: the middle of the leading edge",
             {Face::sans, note_size_mm, alarm, Align::centre});
}

}  // namespace

void add_setup_sketch(PackDocument& document, const PackInput& input) {
  const double height = layout_of(document).height;
  document.need(height);
  const auto at = layout_of(document);
  draw_table(document.pages(), input, at);
  draw_slide(document.pages(), input, at);
  draw_tool(document.pages(), input, at);
  document.move_down(height + 2.0);
}

}  // namespace combwright::draw
