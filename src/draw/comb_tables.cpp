// SPDX-License-Identifier: Apache-2.0
#include "draw/comb_tables.h"

#include <iterator>
#include <string_view>

#include <fmt/format.h>

#include "draw/csv_text.h"
#include "draw/plain_text.h"
#include "draw/words.h"
#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::draw {
namespace {

constexpr std::size_t longest_name = 4000;  // in letters

std::string cell_mm(double length_m) {
  return in_mm(length_m, 3);
}

std::string weight_cells(const steel::CombTooth& tooth) {
  if (!tooth.leaded()) return fmt::format(",,,,,{:.2f}", tooth.file_step_cents);
  const steel::Lead& cut = tooth.as_cut.leads.front();
  return fmt::format("{},{},{},{},{:.2f},", cell_mm(cut.height_m), cell_mm(cut.length_m),
                     cell_mm(cut.center_m), cell_mm(tooth.in_tune.leads.front().length_m),
                     tooth.step_cents);
}

}  // namespace

std::string write_teeth_table(const std::vector<steel::CombDesign>& designs) {
  std::string out =
      "comb,track,note,target_hz,length_mm,width_mm,root_thickness_mm,tip_as_cut_mm,"
      "tip_in_tune_mm,as_cut_cents,bar_mm,weight_as_cut_mm,weight_centre_from_root_mm,"
      "weight_in_tune_mm,cents_per_0.1mm,tip_cents_per_0.01mm,lift_mm,force_n,safety_factor\r\n";
  for (const steel::CombDesign& design : designs) {
    for (const steel::CombTooth& tooth : design.teeth) {
      const steel::Section& cut = tooth.as_cut.sections.front();
      const steel::Section& tuned = tooth.in_tune.sections.front();
      fmt::format_to(
          std::back_inserter(out), "{},{},{},{:.4f},{},{},{},{},{},{:.1f},{},{},{:.3f},{:.3f}\r\n",
          csv_text(label(design.name, longest_name)), tooth.track, music::note_name(tooth.midi),
          tooth.target_hz, cell_mm(cut.length_m), cell_mm(cut.root_width_m),
          cell_mm(cut.root_thickness_m), cell_mm(cut.tip_thickness_m),
          cell_mm(tuned.tip_thickness_m), -tooth.flat_cents, weight_cells(tooth),
          cell_mm(tooth.lift_m), tooth.pluck_force_n, tooth.safety_factor);
    }
  }
  return out;
}

std::string write_saw_table(const box::Box& box, const std::vector<steel::CombDesign>& designs) {
  std::string out = "comb,outside_of_track,radius_mm,from_edge_mm,length_mm\r\n";
  for (std::size_t i = 0; i < designs.size(); ++i) {
    for (const steel::SawCut& cut : steel::saw_cuts(box, box.combs[i], designs[i])) {
      fmt::format_to(std::back_inserter(out), "{},{},{},{},{}\r\n",
                     csv_text(label(designs[i].name, longest_name)), cut.track,
                     cell_mm(cut.radius_m), cell_mm(cut.from_edge_m), cell_mm(cut.length_m));
    }
  }
  return out;
}

std::string write_weight_table(const std::vector<steel::CombDesign>& designs) {
  std::string out = "bar_mm,width_mm,length_mm,pieces,mass_each_mg,tracks\r\n";
  for (const steel::LeadCut& cut : steel::lead_cuts(designs)) {
    fmt::format_to(std::back_inserter(out), "{},{},{},{},{:.1f},{}\r\n", cell_mm(cut.height_m),
                   cell_mm(cut.width_m), cell_mm(cut.length_m), cut.teeth.size(), cut.mass_kg * 1e6,
                   csv_text(tracks_words(cut, designs)));
  }
  return out;
}

}  // namespace combwright::draw
