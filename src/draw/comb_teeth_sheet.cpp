// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <fmt/core.h>

#include "base/quantity.h"
#include "draw/bench_table.h"
#include "draw/comb_sheets.h"
#include "draw/words.h"
#include "music/pitch.h"

namespace combwright::draw {
namespace {

constexpr BenchColumns<13> teeth_columns{
    {0.045, 0.105, 0.20, 0.285, 0.36, 0.435, 0.51, 0.585, 0.66, 0.74, 0.82, 0.91, 1.0},
    {{{"", "track"},
      {"", "note"},
      {"target", "Hz"},
      {"length", "mm"},
      {"root", "mm"},
      {"tip", "mm"},
      {"in tune", "mm"},
      {"bar", "mm"},
      {"weight", "mm"},
      {"in tune", "mm"},
      {"as cut", "cents"},
      {"0.1 mm", "cents"},
      {"0.01 mm", "cents"}}}};

using ToothCells = std::array<std::string, 13>;

ToothCells tooth_cells(const steel::CombTooth& tooth) {
  const steel::Section& cut = tooth.as_cut.sections.front();
  ToothCells cells{fmt::format("{}", tooth.track),
                   music::note_name(tooth.midi),
                   fmt::format("{:.2f}", tooth.target_hz),
                   in_mm(cut.length_m, 2),
                   in_mm(cut.root_thickness_m, 3),
                   in_mm(cut.tip_thickness_m, 3),
                   "",
                   "",
                   "",
                   "",
                   fmt::format("-{:.0f}", tooth.flat_cents),
                   "",
                   ""};
  if (tooth.leaded()) {
    cells[7] = in_mm(tooth.as_cut.leads.front().height_m, 1);
    cells[8] = in_mm(tooth.as_cut.leads.front().length_m, 1);
    cells[9] = in_mm(tooth.in_tune.leads.front().length_m, 2);
    cells[11] = fmt::format("{:.1f}", tooth.step_cents);
  } else {
    cells[6] = in_mm(tooth.in_tune.sections.front().tip_thickness_m, 3);
    cells[12] = fmt::format("{:.1f}", tooth.file_step_cents);
  }
  return cells;
}

void write_teeth_words(PackDocument& document, const box::Box& box) {
  document.paragraph(
      fmt::format(
          "From the innermost outwards. Root and tip: thickness as cut; it runs straight from root "
          "to tip. Weight: length as first fitted, its tip end {} from the tip; the root end "
          "stays, "
          "and it is clipped at its tip end to the length in tune. As cut: pitch before tuning, "
          "from the target. 0.1 mm: what the next tenth of weight is worth when in tune; 0.01 mm: "
          "the next hundredth of thickness at the tip.",
          to_text(box.lead.tip_gap_m, Dimension::length)),
      small);
  document.paragraph(
      "A tooth without a weight is tuned by filing its underside so that the thickness still runs "
      "straight: nothing off the root, half as much in the middle as at the tip, until the tip has "
      "its thickness in tune. One stroke too many, of pliers or file, is undone by filing a little "
      "at the root; the limits of thickness and strength come first.",
      small);
}

}  // namespace

// On as few pages as hold rows of the least height, as evenly as can be.
void add_teeth(PackDocument& document, const box::Box& box, const steel::CombDesign& design) {
  constexpr double least_row_mm = 2.8;
  constexpr double most_row_mm = 4.0;
  document.new_page(comb_heading(design) + ": teeth");
  write_teeth_words(document, box);
  const double room_mm = document.bottom() - document.y() - bench_heads_mm;
  const auto most = static_cast<std::size_t>(std::max(1.0, room_mm / least_row_mm));
  const std::size_t rows = design.teeth.size();
  const std::size_t on_page = (rows + (rows - 1) / most) / ((rows + most - 1) / most);
  const double height_mm =
      std::clamp(room_mm / static_cast<double>(on_page), least_row_mm, most_row_mm);
  // Neighbouring cells must not touch on narrow paper.
  const double size_mm = std::min(0.8 * height_mm, 0.0155 * document.width());
  const double head_mm = std::min(bench_head_size_mm, 0.016 * document.width());
  for (std::size_t row = 0; row < rows; ++row) {
    if (row > 0 && row % on_page == 0) document.continue_section();
    if (row % on_page == 0) {
      write_heads(document.pages(), here(document), teeth_columns, head_mm);
      document.move_down(bench_heads_mm);
    }
    write_row(document.pages(), here(document), teeth_columns, tooth_cells(design.teeth[row]),
              size_mm);
    document.move_down(height_mm);
    if (design.teeth[row].track % 5 == 0) thin_rule(document.pages(), here(document));
  }
}

}  // namespace combwright::draw
