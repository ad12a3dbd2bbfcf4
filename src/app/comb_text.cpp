// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/comb_answers.h"
#include "app/report.h"
#include "base/quantity.h"
#include "draw/words.h"
#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::app {
namespace {

std::string limits_text(const steel::CombDesign& design) {
  Table rows({"Limit", "Asked", "Nearest", "Track"});
  for (const steel::CombLimit& limit : design.limits) {
    rows.add({limit.name, steel::to_text(limit, limit.bound), steel::to_text(limit, limit.worst),
              fmt::format("{}", limit.track)});
  }
  return rows.text();
}

std::vector<std::string> row(const steel::CombTooth& tooth) {
  const steel::Section& cut = tooth.as_cut.sections.front();
  std::vector<std::string> cells = {fmt::format("{}", tooth.track),
                                    music::note_name(tooth.midi),
                                    fmt::format("{:.2f}", tooth.target_hz),
                                    draw::in_mm(cut.length_m, 2),
                                    draw::in_mm(cut.root_thickness_m, 3),
                                    draw::in_mm(cut.tip_thickness_m, 3),
                                    "",
                                    "",
                                    "",
                                    "",
                                    "",
                                    fmt::format("-{:.0f}", tooth.flat_cents),
                                    fmt::format("{:.2f}", tooth.pluck_force_n),
                                    fmt::format("{:.0f}", tooth.root_stress_pa * 1e-6),
                                    fmt::format("{:.2f}", tooth.safety_factor)};
  if (tooth.leaded()) {
    const steel::Lead& lead = tooth.as_cut.leads.front();
    cells[7] = draw::in_mm(lead.height_m, 1);
    cells[8] = draw::in_mm(lead.length_m, 1);
    cells[9] = draw::in_mm(tooth.in_tune.leads.front().length_m, 2);
    cells[10] = fmt::format("{:.1f}", tooth.step_cents);
  } else {
    cells[6] = draw::in_mm(tooth.in_tune.sections.front().tip_thickness_m, 3);
    cells[10] = fmt::format("{:.1f}", tooth.file_step_cents);
  }
  return cells;
}

std::string teeth_text(const steel::CombDesign& design) {
  Table rows({"Track", "Note", "Hz", "Length", "Root", "Tip", "Filed", "Bar", "Weight", "Clipped",
              "Step", "Cut", "Force", "Stress", "Safety"});
  for (const steel::CombTooth& tooth : design.teeth) {
    if (in_a_new_ten(tooth.track)) rows.begin_group();
    rows.add(row(tooth));
  }
  return rows.text();
}

std::string saw_text(const box::Box& box, const box::Comb& comb, const steel::CombDesign& design) {
  Table rows({"Outside of track", "Radius", "From edge", "Length"});
  for (const steel::SawCut& cut : steel::saw_cuts(box, comb, design)) {
    if (cut.track > 1 && in_a_new_ten(cut.track)) rows.begin_group();
    rows.add({cut.track == 0 ? "inside" : fmt::format("{}", cut.track),
              draw::in_mm(cut.radius_m, 2), draw::in_mm(cut.from_edge_m, 2),
              draw::in_mm(cut.length_m, 2)});
  }
  return rows.text();
}

std::string leads_text(const std::vector<steel::CombDesign>& designs) {
  Table rows({"Bar", "Width", "Length", "Pieces", "Each", "For tracks"});
  double bar = 0.0;
  for (const steel::LeadCut& cut : steel::lead_cuts(designs)) {
    if (std::abs(cut.height_m - bar) > 1e-7) rows.begin_group();
    bar = cut.height_m;
    rows.add({draw::in_mm(cut.height_m, 1), draw::in_mm(cut.width_m, 2),
              draw::in_mm(cut.length_m, 1), fmt::format("{}", cut.teeth.size()),
              fmt::format("{:.1f} mg", cut.mass_kg * 1e6), draw::tracks_words(cut, designs)});
  }
  return rows.text();
}

// The key of the box file that keeps them, to the last digit.
std::string lines_words(const steel::CombCurves& curves) {
  std::vector<std::string> shares;
  for (const double share : steel::lines(curves))
    shares.push_back(fmt::format("\"{:.6g} %\"", 100.0 * share));
  return fmt::format("[{}]", fmt::join(shares, ", "));
}

std::string tip_gap_words(const box::Box& box) {
  return fmt::format("its tip end, as first fitted, is {} from the tip and",
                     to_text(box.lead.tip_gap_m, Dimension::length));
}

std::string heading(const box::Box& box, std::size_t place, const steel::CombDesign& design) {
  const box::Comb& comb = box.combs[place];
  return facts(
      {{"Comb", design.name},
       {"Pitch", draw::pitch_words(box, place)},
       {"Plate", draw::plate_words(comb, steel::plate(box, comb, design))},
       {"Force", fmt::format("greatest {:.2f} times the least", design.force_ratio)},
       {"Loudness", fmt::format("within {:.1f} dB at the root", design.loudness_db)},
       {"Lines", lines_words(design.curves)},
       {"As cut", fmt::format("{:.3g} to {:.3g} cents flat asked; known to {:.1f} cents (95 %)",
                              comb.least_flat_cents, comb.most_flat_cents,
                              design.cut_spread.within_95_cents())}});
}

}  // namespace

std::string comb_text(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                      const Findings& findings) {
  std::string text = facts({{"Box", box.name}}) + findings_text(findings);
  for (std::size_t i = 0; i < designs.size(); ++i) {
    text += "\n" + heading(box, i, designs[i]) + "\n" + limits_text(designs[i]) + "\n" +
            teeth_text(designs[i]);
  }
  text +=
      "\nLengths in mm, cut in cents, force in N, stress in MPa. Tip: thickness as cut. Bar: "
      "height "
      "of the weight.\nWeight, Clipped: its length as first fitted and in tune; " +
      tip_gap_words(box) +
      "\nit is clipped at its tip end. Filed: thickness at the tip in tune of a tooth without a "
      "weight, filed\nso that the thickness still runs straight from an untouched root to the tip. "
      "Step: cents for the next\n0.1 mm of weight, or 0.01 mm off the tip. Cut: pitch as cut from "
      "the target.\n";
  for (std::size_t i = 0; i < designs.size(); ++i) {
    text += fmt::format("\nSaw: {} (mm; from the plate's inner edge)\n", designs[i].name) +
            saw_text(box, box.combs[i], designs[i]);
  }
  return text +
         fmt::format("\nTuning weights of {}, as first fitted (mm)\n",
                     box::to_text(box.lead.metal)) +
         leads_text(designs);
}

}  // namespace combwright::app
