// SPDX-License-Identifier: Apache-2.0
#include <string>
#include <vector>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/pack_document.h"
#include "draw/setup.h"
#include "draw/setup_sketch.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

constexpr double step_name_mm = 26.0;

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
  document.move_down(2.0);
  add_setup_sketch(document, input);
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
