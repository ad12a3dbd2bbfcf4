// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <span>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/comb_sheets.h"
#include "draw/side_by_side.h"
#include "draw/words.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

using Cuts = std::span<const steel::SawCut>;

constexpr BenchColumns<4> saw_columns{
    {0.2, 0.48, 0.76, 1.0},
    {{{"outside", "of track"}, {"radius", "mm"}, {"from edge", "mm"}, {"deep", "mm"}}}};

void write_saw_words(PackDocument& document, const box::Comb& comb) {
  document.paragraph(
      fmt::format(
          "The saw is {} wide. Radius: of the cut's middle, on the box. From edge: the same "
          "from the plate's inner edge. Deep: from the line of the tips to the root line. "
          "Inside: the cut inside of track 1. The first cut and the last run along the "
          "sides of the plate, their outer walls flush with them: nothing is left standing "
          "outside of them.",
          to_text(comb.tooth_gap_m, Dimension::length)),
      small);
}

void write_cuts(PdfPages& pages, BenchPlace place, Cuts cuts) {
  write_heads(pages, place, saw_columns);
  place.y_mm += bench_heads_mm;
  for (const steel::SawCut& cut : cuts) {
    write_row(pages, place, saw_columns,
              {cut.track == 0 ? "inside" : fmt::format("{}", cut.track), in_mm(cut.radius_m, 2),
               in_mm(cut.from_edge_m, 2), in_mm(cut.length_m, 2)});
    place.y_mm += bench_row_mm;
    if (cut.track > 0 && cut.track % 5 == 0) thin_rule(pages, place);
  }
}

}  // namespace

void add_saw(PackDocument& document, const box::Box& box, const box::Comb& comb,
             const steel::CombDesign& design) {
  constexpr double words_mm = 13.0;
  const std::vector<steel::SawCut> all = steel::saw_cuts(box, comb, design);
  document.section(comb_heading(design) + ": saw",
                   words_mm + side_by_side_mm(document, all.size()));
  write_saw_words(document, comb);
  write_side_by_side(document, all.size(),
                     [&](const BenchPlace& place, std::size_t first, std::size_t count) {
                       write_cuts(document.pages(), place, Cuts(all).subspan(first, count));
                     });
}

}  // namespace combwright::draw
