// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <span>

#include <fmt/core.h>

#include "draw/bench_table.h"
#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/comb_sheets.h"
#include "draw/words.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

constexpr double weights_gutter_mm = 12.0;
constexpr double two_from_mm = 150.0;
constexpr double tracks_from = 0.62;  // share of the width from which the tracks are listed
constexpr TextStyle tracks_style{Face::sans, bench_size_mm, ink, Align::left};

constexpr BenchColumns<5> weight_columns{
    {0.08, 0.19, 0.30, 0.42, 0.58},
    {{{"bar", "mm"}, {"width", "mm"}, {"length", "mm"}, {"", "pieces"}, {"each", "mg"}}}};

struct Row {
  steel::LeadCut cut;
  std::string tracks;
  double height_mm = 0.0;
};

std::vector<Row> rows_of(PdfPages& pages, double width_mm,
                         const std::vector<steel::CombDesign>& designs) {
  std::vector<Row> rows;
  for (const steel::LeadCut& cut : steel::lead_cuts(designs)) {
    Row row{cut, tracks_words(cut, designs), bench_row_mm};
    row.height_mm = std::max(
        bench_row_mm,
        0.6 + pages.paragraph_height(width_mm * (1.0 - tracks_from), row.tracks, tracks_style));
    rows.push_back(std::move(row));
  }
  return rows;
}

void write_weights(PdfPages& pages, BenchPlace place, std::span<const Row> rows) {
  write_heads(pages, place, weight_columns);
  pages.text(place.x_mm + place.width_mm * tracks_from, place.y_mm + 5.4, "for tracks",
             {Face::sans, bench_head_size_mm, faint, Align::left});
  place.y_mm += bench_heads_mm;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const steel::LeadCut& cut = rows[i].cut;
    if (i > 0 && std::abs(cut.height_m - rows[i - 1].cut.height_m) > 1e-7) thin_rule(pages, place);
    write_row(pages, place, weight_columns,
              {in_mm(cut.height_m, 1), in_mm(cut.width_m, 2), in_mm(cut.length_m, 1),
               fmt::format("{}", cut.teeth.size()), fmt::format("{:.1f}", cut.mass_kg * 1e6)});
    pages.paragraph(place.x_mm + place.width_mm * tracks_from, place.y_mm + 0.15,
                    place.width_mm * (1.0 - tracks_from), rows[i].tracks, tracks_style);
    place.y_mm += rows[i].height_mm;
  }
}

double height_of(std::span<const Row> rows) {
  double height_mm = 0.0;
  for (const Row& row : rows) height_mm += row.height_mm;
  return height_mm;
}

// How many of the rows fit into a height; at least one.
std::size_t fitting(std::span<const Row> rows, double height_mm) {
  std::size_t count = 1;
  while (count < rows.size() && height_of(rows.first(count + 1)) <= height_mm) ++count;
  return count;
}

}  // namespace

// As many columns on a page as have the room, as evenly as can be.
void add_weights(PackDocument& document, const box::Box& box,
                 const std::vector<steel::CombDesign>& designs) {
  const int side_by_side = document.width() >= two_from_mm ? 2 : 1;
  const double width_mm =
      (document.width() - weights_gutter_mm * (side_by_side - 1)) / side_by_side;
  const std::vector<Row> all = rows_of(document.pages(), width_mm, designs);
  std::span<const Row> left(all);
  if (left.empty()) return;
  document.new_page("Tuning weights to cut");
  document.paragraph(
      fmt::format("Of {}, for all combs together, as first fitted.", box::to_text(box.lead.metal)),
      small);
  if (const std::string caution = weight_caution_words(box); !caution.empty()) {
    add_caution_box(document, {caution});
    document.move_down(3.0);
  }
  while (true) {
    const double room_mm = document.bottom() - document.y() - bench_heads_mm;
    const double share_mm = std::min(room_mm, height_of(left) / side_by_side + bench_row_mm);
    double x_mm = document.left();
    for (int i = 0; i < side_by_side && !left.empty(); ++i) {
      const std::size_t count = fitting(left, share_mm);
      write_weights(document.pages(), {x_mm, document.y(), width_mm}, left.first(count));
      left = left.subspan(count);
      x_mm += width_mm + weights_gutter_mm;
    }
    if (left.empty()) return;
    document.continue_section();
  }
}

}  // namespace combwright::draw
