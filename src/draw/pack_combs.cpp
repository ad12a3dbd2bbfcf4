// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <string>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/caution_box.h"
#include "draw/cautions.h"
#include "draw/check_bar.h"
#include "draw/comb_drawing.h"
#include "draw/comb_sheets.h"
#include "draw/finding_words.h"
#include "draw/pack_document.h"
#include "draw/paint.h"
#include "draw/plain_text.h"
#include "draw/words.h"
#include "steel/comb_lists.h"
#include "steel/weight_caution.h"

namespace combwright::draw {
namespace {

// Of every fifth tooth, or tenth where the teeth lie close, so high that they can be read.
ToothLabels readable_labels(const box::Box& box, double scale) {
  constexpr double height_m = 0.0016;
  constexpr double room_m = 0.0075;
  return {.every = 5.0 * box.tracks.pitch_m * scale >= room_m ? 5 : 10,
          .height_m = height_m / scale};
}

// The comb's picture, at true size where it fits on the page.
void add_picture(PackDocument& document, const box::Box& box, const box::Comb& comb,
                 const steel::CombDesign& design) {
  const Box2 all = bounds(comb_drawing(box, comb, design));
  const double width_mm = to_mm(all.high.x - all.low.x);
  const double height_mm = to_mm(all.high.y - all.low.y);
  // A page has its head above, the bar and its words below.
  constexpr double beside_mm = 45.0;
  const double room_mm = document.bottom() - document.left() - beside_mm;
  const double scale = std::min({1.0, document.width() / width_mm, room_mm / height_mm});
  const Drawing drawing = comb_drawing(box, comb, design, readable_labels(box, scale));
  document.need(scale * height_mm + 10.0);
  document.move_down(2.0);
  const Placement placement{
      document.left() + 0.5 * (document.width() - scale * width_mm) - scale * to_mm(all.low.x),
      document.y() + scale * to_mm(all.high.y), scale};
  paint(document.pages(), drawing, all, placement, Ink::fine);
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

constexpr BenchColumns<5> limit_columns{
    {0.44, 0.60, 0.76, 0.87, 1.0},
    {{{"", ""}, {"", "asked"}, {"", "nearest"}, {"", "track"}, {"teeth that", "break it"}}}};

void add_limits(PackDocument& document, const steel::CombDesign& design) {
  document.heading("What every tooth is to keep",
                   bench_heads_mm + bench_row_mm * static_cast<double>(design.limits.size()));
  write_heads(document.pages(), here(document), limit_columns);
  document.move_down(bench_heads_mm);
  for (const steel::CombLimit& limit : design.limits) {
    document.pages().text(document.left(), document.y() + bench_size_mm, limit.name,
                          {Face::sans, bench_size_mm, limit.broken > 0 ? alarm : ink, Align::left});
    write_row(document.pages(), here(document), limit_columns,
              {"", to_text(limit, limit.bound), to_text(limit, limit.worst),
               fmt::format("{}", limit.track),
               limit.broken > 0 ? fmt::format("{}", limit.broken) : "none"});
    document.move_down(bench_row_mm);
  }
  document.move_down(2.0);
}

std::string weights_words(const box::Box& box, const steel::CombDesign& design) {
  const auto leaded = static_cast<std::size_t>(
      std::count_if(design.teeth.begin(), design.teeth.end(),
                    [](const steel::CombTooth& tooth) { return tooth.leaded(); }));
  if (leaded == 0) return "none";
  return fmt::format(
      "{} of {} under as many teeth, each with its tip end, as first fitted, {} from "
      "the tip",
      leaded, box::to_text(box.lead.metal), to_text(box.lead.tip_gap_m, Dimension::length));
}

void add_comb_facts(PackDocument& document, const box::Box& box, std::size_t comb,
                    const steel::CombDesign& design) {
  constexpr double names_mm = 28.0;
  const box::Comb& own = box.combs[comb];
  document.entry("plate", plate_words(own, steel::plate(box, own, design)), names_mm);
  document.entry("teeth", fmt::format("{}", design.teeth.size()), names_mm);
  document.entry("weights", weights_words(box, design), names_mm);
  document.entry("pitch", pitch_words(box, comb), names_mm);
  document.entry("evenness",
                 fmt::format("greatest pluck force {:.2f} times the least; loudness at the root "
                             "within {:.1f} dB",
                             design.force_ratio, design.loudness_db),
                 names_mm);
  document.entry("as cut",
                 fmt::format("pitch known to {:.0f} cents (95 % of teeth)",
                             design.cut_spread.within_95_cents()),
                 names_mm);
}

// The caution for weights stands among the cautions.
void add_findings_of(PackDocument& document, const box::Box& box, const steel::CombDesign& design) {
  const auto caution = steel::weight_caution(box.lead.metal);
  for (const Finding& finding : gravest_first(design.findings)) {
    if (caution && finding.what == caution->what) continue;
    const TextStyle style{Face::bold, 2.8, finding.level == Level::fault ? alarm : ink,
                          Align::left};
    document.entry(to_text(finding.level), finding_words(finding), 20.0, style);
  }
}

}  // namespace

std::string comb_heading(const steel::CombDesign& design) {
  std::string words = box::comb_words(label(design.name, 40));
  words.front() = 'C';
  return words;
}

void add_combs(PackDocument& document, const box::Box& box,
               const std::vector<steel::CombDesign>& designs) {
  for (std::size_t i = 0; i < designs.size(); ++i) {
    document.new_page(comb_heading(designs[i]));
    add_comb_facts(document, box, i, designs[i]);
    add_picture(document, box, box.combs[i], designs[i]);
    add_limits(document, designs[i]);
    add_findings_of(document, box, designs[i]);
    add_saw(document, box, box.combs[i], designs[i]);
    if (i == 0) add_caution_box(document, comb_sheet_cautions(box, designs));
    add_teeth(document, box, designs[i]);
  }
  add_weights(document, box, designs);
}

}  // namespace combwright::draw
