// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/check_bar.h"
#include "draw/comb_drawing.h"
#include "draw/finding_words.h"
#include "draw/pack_document.h"
#include "draw/paint.h"
#include "draw/plain_text.h"
#include "draw/words.h"
#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

constexpr double row_mm = 3.7;
constexpr double heads_mm = 8.0;
constexpr double number_size_mm = 2.6;
constexpr TextStyle head{Face::sans, 2.3, faint, Align::right};

std::string mm(double length_m, int decimals) {
  return fmt::format("{:.{}f}", length_m * 1e3, decimals);
}

// "Comb front".
std::string heading_of(const steel::CombDesign& design) {
  std::string words = box::comb_words(label(design.name, 40));
  words.front() = 'C';
  return words;
}

// A table from a left edge on: heads of two lines, right edges of the columns as shares of its
// width.
template <std::size_t columns>
struct Columns {
  std::array<double, columns> edges;
  std::array<std::array<const char*, 2>, columns> heads;
};

struct Place {
  double x_mm;
  double y_mm;
  double width_mm;
};

template <std::size_t columns>
void write_heads(PdfPages& pages, const Place& place, const Columns<columns>& table) {
  for (std::size_t i = 0; i < columns; ++i) {
    const double x = place.x_mm + place.width_mm * table.edges[i];
    pages.text(x, place.y_mm + 2.4, table.heads[i][0], head);
    pages.text(x, place.y_mm + 5.4, table.heads[i][1], head);
  }
  stroke_line(pages, place.x_mm, place.y_mm + 6.8, place.x_mm + place.width_mm, place.y_mm + 6.8,
              0.2, accent);
}

template <std::size_t columns>
void write_row(PdfPages& pages, const Place& place, const Columns<columns>& table,
               const std::array<std::string, columns>& cells, double size_mm = number_size_mm) {
  for (std::size_t i = 0; i < columns; ++i) {
    pages.text(place.x_mm + place.width_mm * table.edges[i], place.y_mm + size_mm, cells[i],
               {Face::sans, size_mm, ink, Align::right});
  }
}

void thin_rule(PdfPages& pages, const Place& place) {
  stroke_line(pages, place.x_mm, place.y_mm - 0.3, place.x_mm + place.width_mm, place.y_mm - 0.3,
              0.08, rule);
}

Place here(const PackDocument& document) {
  return {document.left(), document.y(), document.width()};
}

constexpr Columns<13> teeth_columns{
    {0.045, 0.10, 0.185, 0.26, 0.33, 0.40, 0.50, 0.575, 0.645, 0.725, 0.80, 0.89, 1.0},
    {{{"", "track"},
      {"", "note"},
      {"target", "Hz"},
      {"length", "mm"},
      {"root", "mm"},
      {"tip", "mm"},
      {"saw at", "mm"},
      {"deep", "mm"},
      {"bar", "mm"},
      {"weight", "mm"},
      {"in tune", "mm"},
      {"as cut", "cents"},
      {"0.1 mm", "cents"}}}};

using ToothCells = std::array<std::string, 13>;

ToothCells cells_of(const steel::CombTooth& tooth, const steel::SawCut& saw) {
  const steel::Section& cut = tooth.as_cut.sections.front();
  ToothCells cells{fmt::format("{}", tooth.track),
                   music::note_name(tooth.midi),
                   fmt::format("{:.2f}", tooth.target_hz),
                   mm(cut.length_m, 2),
                   mm(cut.root_thickness_m, 3),
                   mm(cut.tip_thickness_m, 3),
                   mm(saw.radius_m, 2),
                   mm(saw.length_m, 2),
                   "",
                   "",
                   "",
                   fmt::format("-{:.0f}", tooth.flat_cents),
                   ""};
  if (tooth.leaded()) {
    cells[8] = mm(tooth.as_cut.leads.front().height_m, 1);
    cells[9] = mm(tooth.as_cut.leads.front().length_m, 1);
    cells[10] = mm(tooth.in_tune.leads.front().length_m, 2);
    cells[12] = fmt::format("{:.1f}", tooth.step_cents);
  }
  return cells;
}

void write_teeth_words(PackDocument& document) {
  document.paragraph(
      "From the innermost outwards. Root and tip: thickness as cut. Saw: the cut outside of the "
      "tooth, its middle's radius and its depth from the tips. Weight: length as first fitted; its "
      "inner end stays, it is clipped at its outer end to the length in tune. As cut: pitch before "
      "tuning, from the target; 0.1 mm: what the next tenth of weight is worth. Teeth without a "
      "weight are tuned by filing the tip thinner.",
      small);
}

// On as few pages as hold rows of the least height, as evenly as can be.
void add_teeth(PackDocument& document, const box::Box& box, const steel::CombDesign& design) {
  constexpr double least_row_mm = 2.9;
  constexpr double most_row_mm = 4.0;
  const std::vector<steel::SawCut> cuts = steel::saw_cuts(box, design);
  document.new_page(heading_of(design) + ": teeth");
  write_teeth_words(document);
  const double room_mm = document.bottom() - document.y() - heads_mm;
  const auto most = static_cast<std::size_t>(std::max(1.0, room_mm / least_row_mm));
  const std::size_t rows = design.teeth.size() + 1;
  const std::size_t on_page = (rows + (rows - 1) / most) / ((rows + most - 1) / most);
  const double height_mm =
      std::clamp(room_mm / static_cast<double>(on_page), least_row_mm, most_row_mm);
  // Neighbouring cells must not touch on narrow paper.
  const double size_mm = std::min(0.8 * height_mm, 0.0155 * document.width());
  for (std::size_t row = 0; row < rows; ++row) {
    if (row > 0 && row % on_page == 0) document.continue_section();
    if (row % on_page == 0) {
      write_heads(document.pages(), here(document), teeth_columns);
      document.move_down(heads_mm);
    }
    ToothCells cells;
    if (row == 0) {
      cells[6] = mm(cuts[0].radius_m, 2);
      cells[7] = mm(cuts[0].length_m, 2);
    } else {
      cells = cells_of(design.teeth[row - 1], cuts[row]);
    }
    write_row(document.pages(), here(document), teeth_columns, cells, size_mm);
    document.move_down(height_mm);
    if (row > 0 && row % 5 == 0) thin_rule(document.pages(), here(document));
  }
}

// The comb's picture, at true size where it fits on the page.
void add_picture(PackDocument& document, const box::Box& box, const box::Comb& comb,
                 const steel::CombDesign& design) {
  const Drawing drawing = comb_drawing(box, comb, design);
  const Box2 all = bounds(drawing);
  const double width_mm = to_mm(all.high.x - all.low.x);
  const double height_mm = to_mm(all.high.y - all.low.y);
  // A page has its head above, the bar and its words below.
  constexpr double beside_mm = 45.0;
  const double room_mm = document.bottom() - document.left() - beside_mm;
  const double scale = std::min({1.0, document.width() / width_mm, room_mm / height_mm});
  document.need(scale * height_mm + 10.0);
  document.move_down(2.0);
  const Placement placement{
      document.left() + 0.5 * (document.width() - scale * width_mm) - scale * to_mm(all.low.x),
      document.y() + scale * to_mm(all.high.y), scale};
  paint(document.pages(), drawing, all, placement);
  document.move_down(scale * height_mm + 4.0);
  const bool true_size = scale == 1.0;
  if (true_size) {
    document.need(16.0);
    draw_level_bar(document.pages(), document.left(), document.y());
    document.move_down(10.0);
  }
  document.paragraph(true_size ? "At true size if the bar measures 100 mm."
                               : fmt::format("At {:.0f} % of true size; comb.dxf and comb.svg "
                                             "have it at true size.",
                                             100.0 * scale),
                     small);
}

constexpr Columns<5> limit_columns{
    {0.44, 0.60, 0.76, 0.87, 1.0},
    {{{"", ""}, {"", "asked"}, {"", "nearest"}, {"", "track"}, {"teeth that", "break it"}}}};

void add_limits(PackDocument& document, const steel::CombDesign& design) {
  document.heading("What every tooth is to keep",
                   heads_mm + row_mm * static_cast<double>(design.limits.size()));
  write_heads(document.pages(), here(document), limit_columns);
  document.move_down(heads_mm);
  for (const steel::CombLimit& limit : design.limits) {
    document.pages().text(
        document.left(), document.y() + number_size_mm, limit.name,
        {Face::sans, number_size_mm, limit.broken > 0 ? alarm : ink, Align::left});
    write_row(document.pages(), here(document), limit_columns,
              {"", to_text(limit, limit.bound), to_text(limit, limit.worst),
               fmt::format("{}", limit.track),
               limit.broken > 0 ? fmt::format("{}", limit.broken) : "none"});
    document.move_down(row_mm);
  }
  document.move_down(2.0);
}

void add_facts(PackDocument& document, const box::Box& box, const box::Comb& comb,
               const steel::CombDesign& design) {
  const auto leaded = std::count_if(design.teeth.begin(), design.teeth.end(),
                                    [](const steel::CombTooth& tooth) { return tooth.leaded(); });
  constexpr double names_mm = 28.0;
  document.entry("plate", plate_words(comb, steel::plate(box, comb, design)), names_mm);
  document.entry("saw", to_text(comb.tooth_gap_m, Dimension::length) + " wide", names_mm);
  document.entry("teeth",
                 fmt::format("{}, {} of them with a weight of {}", design.teeth.size(), leaded,
                             box::to_text(box.lead.metal)),
                 names_mm);
  document.entry("pitch",
                 fmt::format("A4 {:.5g} Hz, {} temperament, at {}", box.scale.a4_hz,
                             box::temperament_words(box.scale),
                             to_text(box.scale.temperature_c, Dimension::temperature)),
                 names_mm);
  document.entry("evenness",
                 fmt::format("greatest pluck force {:.2f} times the least; loudness at the root "
                             "within {:.1f} dB",
                             design.force_ratio, design.loudness_db),
                 names_mm);
}

void add_findings_of(PackDocument& document, const steel::CombDesign& design) {
  for (const Finding& finding : gravest_first(design.findings)) {
    const TextStyle style{Face::bold, 2.8, finding.level == Level::fault ? alarm : ink,
                          Align::left};
    document.entry(to_text(finding.level), finding_words(finding), 20.0, style);
  }
}

constexpr Columns<5> weight_columns{
    {0.15, 0.35, 0.55, 0.75, 1.0},
    {{{"bar", "mm"}, {"width", "mm"}, {"length", "mm"}, {"", "pieces"}, {"each", "mg"}}}};

void write_weights(PdfPages& pages, Place place, std::span<const steel::LeadCut> cuts) {
  write_heads(pages, place, weight_columns);
  place.y_mm += heads_mm;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const steel::LeadCut& cut = cuts[i];
    if (i > 0 && std::abs(cut.height_m - cuts[i - 1].height_m) > 1e-7) thin_rule(pages, place);
    write_row(pages, place, weight_columns,
              {mm(cut.height_m, 1), mm(cut.width_m, 2), mm(cut.length_m, 1),
               fmt::format("{}", cut.count), fmt::format("{:.1f}", cut.mass_kg * 1e6)});
    place.y_mm += row_mm;
  }
}

// Two columns a page.
void add_weights(PackDocument& document, const box::Box& box,
                 const std::vector<steel::CombDesign>& designs) {
  constexpr double gutter_mm = 12.0;
  const std::vector<steel::LeadCut> all = steel::lead_cuts(designs);
  std::span<const steel::LeadCut> left(all);
  if (left.empty()) return;
  document.new_page("Tuning weights to cut");
  document.paragraph(
      fmt::format("Of {}, for all combs together, as first fitted.", box::to_text(box.lead.metal)),
      small);
  const double width_mm = 0.5 * (document.width() - gutter_mm);
  while (true) {
    const double room_mm = document.bottom() - document.y() - heads_mm;
    const auto most = static_cast<std::size_t>(std::max(1.0, room_mm / row_mm));
    const std::size_t in_column = std::min(most, (left.size() + 1) / 2);
    for (const double x : {document.left(), document.right() - width_mm}) {
      const auto column = left.first(std::min(in_column, left.size()));
      if (!column.empty()) write_weights(document.pages(), {x, document.y(), width_mm}, column);
      left = left.subspan(column.size());
    }
    if (left.empty()) return;
    document.continue_section();
  }
}

}  // namespace

void add_combs(PackDocument& document, const box::Box& box,
               const std::vector<steel::CombDesign>& designs) {
  for (std::size_t i = 0; i < designs.size(); ++i) {
    document.new_page(heading_of(designs[i]));
    add_facts(document, box, box.combs[i], designs[i]);
    add_picture(document, box, box.combs[i], designs[i]);
    add_limits(document, designs[i]);
    add_findings_of(document, designs[i]);
    add_teeth(document, box, designs[i]);
  }
  add_weights(document, box, designs);
}

}  // namespace combwright::draw
