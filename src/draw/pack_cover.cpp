// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include <cairo.h>
#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/disc_drawing.h"
#include "draw/fate_mark.h"
#include "draw/pack_document.h"
#include "draw/paint.h"
#include "draw/plain_text.h"
#include "draw/setup.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

using Facts = std::vector<std::pair<std::string, std::string>>;

std::size_t count_of(const arrange::Arrangement& arrangement, arrange::Fate fate) {
  return static_cast<std::size_t>(
      std::count_if(arrangement.notes.begin(), arrangement.notes.end(),
                    [fate](const auto& note) { return note.fate == fate; }));
}

void title(PackDocument& document, const PackInput& input) {
  auto& pages = document.pages();
  const auto name = label(input.arrangement.title);
  pages.text_within(document.left(), document.y() + 8.0, document.width(),
                    name.empty() ? "untitled tune" : name, {Face::serif, 9.0, ink, Align::left});
  pages.text_within(document.left(), document.y() + 15.0, document.width(),
                    "for " + label(input.box.name), {Face::sans, 4.2, faint, Align::left});
  stroke_line(pages, document.left(), document.y() + 19.5, document.right(), document.y() + 19.5,
              0.5, accent);
  document.move_down(24.0);
}

void stop_sign(PackDocument& document, const PackInput& input) {
  if (!has_fault(input.disc.findings) && !has_fault(input.arrangement.findings)) return;
  document.paragraph("Do not cut this disc as it stands: a fault is among the findings.",
                     {Face::bold, 3.6, alarm, Align::left});
}

void picture(PackDocument& document, const PackInput& input) {
  const double diameter_mm = input.box.disc.diameter_m * 1000.0;
  const double room_mm = std::min(document.width(), document.bottom() - document.y() - 72.0);
  const double scale = std::min(1.0, room_mm / diameter_mm);
  const double drawn_mm = diameter_mm * scale;
  const auto drawing = draw_disc(input.box, input.disc);
  paint(document.pages(), drawing, bounds(drawing),
        {(document.left() + document.right()) / 2.0, document.y() + drawn_mm / 2.0, scale},
        Ink::solid);
  document.move_down(drawn_mm + 4.5);
  document.pages().text(
      (document.left() + document.right()) / 2.0, document.y(),
      fmt::format("Seen from the side the punch strikes. Drawn 1 : {:.3g}; the disc measures {}.",
                  1.0 / scale, to_text(input.box.disc.diameter_m, Dimension::length)),
      {Face::sans, 2.6, faint, Align::centre});
  document.move_down(6.0);
}

std::array<Facts, 2> facts(const PackInput& input) {
  const auto& arrangement = input.arrangement;
  const Facts tune{
      {"One turn", to_text(arrangement.turn_time_s, Dimension::time)},
      {"Transposition", transposition_words(arrangement.transpose_semitones)},
      {"Tempo", tempo_words(arrangement.tempo_factor)},
      {"Excerpt", fmt::format("bars {} to {}", arrangement.first_bar, arrangement.last_bar)},
  };
  const Facts result{
      {"Fidelity", fmt::format("{:.1f} %", arrangement.fidelity * 100.0)},
      {"Proven bound", fmt::format("{:.1f} %", arrangement.fidelity_bound * 100.0)},
      {"Projections", fmt::format("{}", input.disc.projections.size())},
      {"Punching", "about " + duration_words(punching_time_s(input.shop, input.disc))},
  };
  return {tune, result};
}

void fact_columns(PackDocument& document, const PackInput& input) {
  constexpr double row_mm = 6.0;
  const double column_mm = document.width() / 2.0;
  const double name_mm = column_mm * 0.32;
  std::size_t rows = 0;
  double x = document.left();
  for (const auto& column : facts(input)) {
    double y = document.y() + 4.0;
    for (const auto& [name, value] : column) {
      document.pages().text(x, y, name, small);
      document.pages().text_within(x + name_mm, y, column_mm - name_mm - 3.0, value,
                                   {Face::sans, 3.6, ink, Align::left});
      y += row_mm;
    }
    rows = std::max(rows, column.size());
    x += column_mm;
  }
  document.move_down(row_mm * static_cast<double>(rows) + 3.0);
}

// The written notes as one bar cut by fate, with the counts below.
void fate_bar(PackDocument& document, const PackInput& input) {
  auto& pages = document.pages();
  const auto all = std::max<std::size_t>(1, input.arrangement.notes.size());
  const double y = document.y();
  double x = document.left();
  double legend_x = document.left();
  pages.text(
      x, y + 3.0,
      fmt::format("What became of the {}", counted(input.arrangement.notes.size(), "written note")),
      small);
  for (const auto fate : all_fates) {
    const auto count = count_of(input.arrangement, fate);
    const double width = document.width() * static_cast<double>(count) / static_cast<double>(all);
    set_colour(pages, colour_of(fate));
    cairo_rectangle(pages.cairo(), x, y + 5.0, width, 3.0);
    cairo_fill(pages.cairo());
    x += width;
    mark_fate(pages, fate, legend_x + 2.0, y + 11.4, 4.0, 1.8);
    pages.text(legend_x + 8.0, y + 13.2, fmt::format("{} {}", count, arrange::to_text(fate)),
               {Face::sans, 3.2, ink, Align::left});
    legend_x += document.width() / 4.0;
  }
  document.move_down(17.0);
}

}  // namespace

void add_cover(PackDocument& document, const PackInput& input) {
  document.new_page("");
  title(document, input);
  stop_sign(document, input);
  picture(document, input);
  fact_columns(document, input);
  fate_bar(document, input);
  document.paragraph(
      "Fidelity is the weight of the notes played, by how they are played, over the weight of all "
      "written notes. No arrangement under the same rules can exceed the bound.",
      small);
}

}  // namespace combwright::draw
