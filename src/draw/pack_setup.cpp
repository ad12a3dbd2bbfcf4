// SPDX-License-Identifier: Apache-2.0
#include <numbers>
#include <string>
#include <vector>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/pack_document.h"
#include "draw/setup.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr double step_name_mm = 26.0;

// An arc with a head at its end; angles as on the disc, counter-clockwise from +X.
void arrow(PdfPages& pages, double x, double y, double radius, double from_rad, double to_rad,
           const Colour& colour) {
  auto* cairo = pages.cairo();
  set_colour(pages, colour);
  cairo_set_line_width(cairo, 0.3);
  cairo_new_path(cairo);
  if (to_rad > from_rad) {
    cairo_arc_negative(cairo, x, y, radius, -from_rad, -to_rad);
  } else {
    cairo_arc(cairo, x, y, radius, -from_rad, -to_rad);
  }
  cairo_stroke(cairo);
  cairo_save(cairo);
  cairo_translate(cairo, x, y);
  cairo_rotate(cairo, -to_rad);
  const double ahead = to_rad > from_rad ? -2.6 : 2.6;
  cairo_move_to(cairo, radius - 0.9, 0.0);
  cairo_line_to(cairo, radius + 0.9, 0.0);
  cairo_line_to(cairo, radius, ahead);
  cairo_fill(cairo);
  cairo_restore(cairo);
}

// The table from above: slide, tool (enlarged), start line and both senses of turning.
void sketch(PackDocument& document, const PackInput& input) {
  constexpr double radius = 24.0;
  constexpr double tool_x = 17.0;
  constexpr double tool_length = 6.0;
  constexpr double tool_width = 2.6;
  constexpr double sixth = std::numbers::pi / 3.0;
  document.need(2.0 * radius + 8.0);
  auto& pages = document.pages();
  auto* cairo = pages.cairo();
  const double x = document.left() + radius + 4.0;
  const double y = document.y() + radius + 2.0;
  const double label_x = x + radius + 17.0;
  const bool clockwise = input.box.disc.turning == box::Turning::clockwise;
  set_colour(pages, ink);
  cairo_set_line_width(cairo, 0.25);
  for (const double r : {radius, 2.0}) {
    cairo_new_path(cairo);
    cairo_arc(cairo, x, y, r, 0.0, 2.0 * std::numbers::pi);
    cairo_stroke(cairo);
  }
  stroke_line(pages, x, y, x + radius + 16.0, y, 0.2, faint);
  pages.text_within(label_x, y + 1.0, document.right() - label_x, "X slide; start line at A 0",
                    small);
  set_colour(pages, accent);
  cairo_rectangle(cairo, x + tool_x - tool_width / 2.0, clockwise ? y - tool_length : y, tool_width,
                  tool_length);
  cairo_fill(cairo);
  pages.text_within(label_x, clockwise ? y - 6.0 : y + 8.0, document.right() - label_x,
                    "tool, leading edge on the slide's line", small);
  arrow(pages, x, y, 11.0, 2.0 * sixth, sixth, accent);
  pages.text(x, y - 14.0, "A +", {Face::sans, 2.6, accent, Align::centre});
  const double below = -1.5 * sixth;
  const double turn = clockwise ? -0.5 * sixth : 0.5 * sixth;
  arrow(pages, x, y, 11.0, below - turn, below + turn, faint);
  pages.text(x, y + 16.5, "in the box", {Face::sans, 2.6, faint, Align::centre});
  document.move_down(2.0 * radius + 7.0);
}

// The cautions in a frame of their own, kept together on one page.
void caution_box(PackDocument& document, const std::vector<std::string>& cautions) {
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

}  // namespace

void add_setup(PackDocument& document, const PackInput& input) {
  document.new_page("At the punch");
  for (const auto& [what, how] : setup_steps(input.box, input.shop, input.disc)) {
    document.entry(what, how, step_name_mm);
  }
  document.move_down(3.0);
  sketch(document, input);
  const auto& tour = input.disc.tour;
  document.paragraph(
      fmt::format("Moves {} (no order of hits could take less than {}), strokes {}; {} in all.",
                  duration_words(tour.length_s), duration_words(tour.bound_s),
                  duration_words(punching_time_s(input.shop, input.disc) - tour.length_s),
                  duration_words(punching_time_s(input.shop, input.disc))));
  auto cautions = punch_cautions(input.box, input.shop);
  const auto more = workshop_cautions();
  cautions.insert(cautions.end(), more.begin(), more.end());
  caution_box(document, cautions);
}

}  // namespace combwright::draw
