// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/disc_drawing.h"
#include "draw/disc_view.h"
#include "draw/fate_mark.h"
#include "draw/finding_words.h"
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
  const auto name = dashed(label(input.arrangement.title));
  pages.text_within(document.left(), document.y() + 8.0, document.width(),
                    name.empty() ? "untitled tune" : name, {Face::serif, 9.0, ink, Align::left});
  pages.text_within(document.left(), document.y() + 15.0, document.width(),
                    "for " + dashed(label(input.box.name)), {Face::sans, 4.2, faint, Align::left});
  stroke_line(pages, document.left(), document.y() + 19.5, document.right(), document.y() + 19.5,
              0.5, accent);
  document.move_down(24.0);
}

void stop_sign(PackDocument& document, const PackInput& input) {
  if (!has_fault(all_findings(input))) return;
  document.paragraph("Do not cut this disc as it stands: a fault is among the findings.",
                     {Face::bold, 3.6, alarm, Align::left});
}

// Where the start line, the gap and the sense of turning are, in words beside the disc.
void picture_words(const DiscView& view, double radius_mm) {
  const auto& disc = view.box.disc;
  const auto [x, y, scale] = view.placement;
  const bool clockwise = disc.turning == box::Turning::clockwise;
  const TextStyle words{Face::sans, note_size_mm, ink, Align::left};
  const double beside = x + radius_mm + 3.0;
  view.pages.text(beside, y + 1.0, "0°, start line", words);
  const double gap_y = clockwise ? y - 6.0 : y + 5.0;
  view.pages.text(beside, gap_y, "start gap", words);
  view.pages.text(beside, gap_y + 3.4, to_text(disc.start_gap_rad, Dimension::angle), words);
  draw_arrow(view, radius_mm + 9.0, clockwise ? 55.0 : 35.0, clockwise ? 35.0 : 55.0, accent);
  const TextStyle turning{Face::sans, note_size_mm, accent, Align::left};
  const double corner = (radius_mm + 12.0) * 0.71;
  view.pages.text(x + corner, y - corner - 3.4, "turns", turning);
  view.pages.text(x + corner, y - corner, box::to_text(disc.turning), turning);
}

void picture(PackDocument& document, const PackInput& input) {
  constexpr double left_mm = 9.0;    // for the angles
  constexpr double right_mm = 27.0;  // for the words
  constexpr double above_mm = 7.0;
  constexpr double rest_of_page_mm = 82.0;
  const double diameter_mm = input.box.disc.diameter_m * 1000.0;
  const double room_mm =
      std::min(document.width() - left_mm - right_mm,
               document.bottom() - document.y() - rest_of_page_mm - 2.0 * above_mm);
  const double scale = std::min(1.0, room_mm / diameter_mm);
  const double drawn_mm = diameter_mm * scale;
  const double middle = (document.left() + document.right() + left_mm - right_mm) / 2.0;
  const DiscView view{
      document.pages(), input.box, {middle, document.y() + above_mm + drawn_mm / 2.0, scale}};
  tint_start_gap(view);
  draw_track_rings(view);
  const auto drawing = draw_disc(input.box, input.disc);
  paint(document.pages(), drawing, bounds(drawing), view.placement, Ink::solid);
  number_track_rings(view);
  mark_angles(view, 30, 5.2);
  picture_words(view, drawn_mm / 2.0);
  document.move_down(drawn_mm + 2.0 * above_mm + 2.0);
  document.paragraph(
      fmt::format("Seen from the side the punch strikes, 1 : {:.3g}; the disc measures {}. "
                  "Every tenth track has a ring.",
                  1.0 / scale, to_text(input.box.disc.diameter_m, Dimension::length)),
      small);
  document.move_down(1.5);
}

std::string findings_fact(const PackDocument& document, const PackInput& input) {
  const auto findings = all_findings(input);
  const auto counts = finding_counts(findings);
  return findings.empty() ? counts : fmt::format("{}: page {}", counts, document.findings_page());
}

std::array<Facts, 2> facts(const PackDocument& document, const PackInput& input) {
  const auto& arrangement = input.arrangement;
  const Facts tune{
      {"One turn", to_text(arrangement.turn_time_s, Dimension::time)},
      {"Transposition", transposition_words(arrangement.transpose_semitones)},
      {"Tempo", tempo_words(arrangement.tempo_factor)},
      {"Excerpt", fmt::format("bars {} to {}", arrangement.first_bar, arrangement.last_bar)},
  };
  const Facts result{
      {"Fidelity", fmt::format("{:.1f} %", arrangement.fidelity * 100.0)},
      {"Most possible", fmt::format("{:.1f} %", arrangement.fidelity_bound * 100.0)},
      {"Projections", fmt::format("{}", input.disc.projections.size())},
      {"Punching", "about " + duration_words(punching_time_s(input.shop, input.disc))},
      {"Findings", findings_fact(document, input)},
  };
  return {tune, result};
}

void fact_columns(PackDocument& document, const PackInput& input) {
  constexpr TextStyle value_style{Face::sans, 3.6, ink, Align::left};
  constexpr double base_mm = 0.93 * value_style.size_mm;  // from the upper edge to the base line
  constexpr double between_mm = 1.7;
  const double column_mm = document.width() / 2.0;
  const double name_mm = column_mm * 0.32;
  const double value_mm = column_mm - name_mm - 3.0;
  auto& pages = document.pages();
  double bottom = document.y();
  double x = document.left();
  for (const auto& column : facts(document, input)) {
    double y = document.y();
    for (const auto& [name, value] : column) {
      pages.text(x, y + base_mm, name, small);
      y += pages.paragraph(x + name_mm, y, value_mm, value, value_style) + between_mm;
    }
    bottom = std::max(bottom, y);
    x += column_mm;
  }
  document.move_down(bottom - document.y() + 3.0);
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
  const TextStyle words_style{Face::sans, std::min(3.2, document.width() / 52.0), ink, Align::left};
  const double between_mm = 0.05 * document.width();
  for (const auto fate : all_fates) {
    const auto count = count_of(input.arrangement, fate);
    const double width = document.width() * static_cast<double>(count) / static_cast<double>(all);
    fill_rectangle(pages, x, y + 5.0, width, 3.0, colour_of(fate));
    x += width;
    mark_fate(pages, fate, legend_x + 2.0, y + 11.4, 4.0, 1.8);
    const std::string words = fmt::format("{} {}", count, fate_words(fate));
    pages.text(legend_x + 8.0, y + 13.2, words, words_style);
    legend_x += 8.0 + pages.text_width(words, words_style) + between_mm;
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
      "written notes. Most possible: no arrangement of this tune at this transposition and tempo "
      "could keep more on this box.",
      small);
}

}  // namespace combwright::draw
