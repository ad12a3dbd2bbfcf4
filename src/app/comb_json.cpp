// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "app/comb_answers.h"
#include "box/measures.h"
#include "disc/plan_json.h"
#include "music/pitch.h"
#include "steel/comb_lists.h"

namespace combwright::app {
namespace {

Json lead_json(const steel::CombTooth& tooth) {
  if (!tooth.leaded()) return nullptr;
  const steel::Lead& left = tooth.in_tune.leads.front();
  const steel::Lead& cut = tooth.as_cut.leads.front();
  return {{"mass_kg", left.mass_kg},
          {"length_m", left.length_m},
          {"center_m", left.center_m},
          {"as_cut_mass_kg", cut.mass_kg},
          {"as_cut_length_m", cut.length_m},
          {"as_cut_center_m", cut.center_m},
          {"width_m", left.width_m},
          {"height_m", left.height_m},
          {"offset_m", left.offset_m},
          {"modulus_pa", left.modulus_pa},
          {"poisson_ratio", left.poisson_ratio},
          {"cents_per_step", tooth.step_cents}};
}

Json tooth_json(const box::Box& box, const steel::CombDesign& design,
                const steel::CombTooth& tooth) {
  const steel::Section& cut = tooth.as_cut.sections.front();
  const steel::Section& tuned = tooth.in_tune.sections.front();
  const double root = tooth.in_tune.root.turning_n_m;
  return {{"comb", design.name},
          {"track", tooth.track},
          {"radius_m", box::track_radius_m(box, tooth.track)},
          {"note", music::note_name(tooth.midi)},
          {"midi", tooth.midi},
          {"target_hz", tooth.target_hz},
          {"length_m", tuned.length_m},
          {"width_m", tuned.root_width_m},
          {"thickness_m", tuned.root_thickness_m},
          {"tip_thickness_m", tuned.tip_thickness_m},
          {"as_cut_tip_thickness_m", cut.tip_thickness_m},
          {"root_stiffness_n_m", std::isinf(root) ? Json(nullptr) : Json(root)},
          {"lead", lead_json(tooth)},
          {"modes_hz", tooth.modes_hz},
          {"modes_as_cut_hz", tooth.modes_as_cut_hz},
          {"flat_cents", tooth.flat_cents},
          {"cents_per_file_step", tooth.leaded() ? Json(nullptr) : Json(tooth.file_step_cents)},
          {"tip_stiffness_n_m", tooth.tip_stiffness_n_m},
          {"lift_m", tooth.lift_m},
          {"pluck_force_n", tooth.pluck_force_n},
          {"pluck_energy_j", tooth.pluck_energy_j},
          {"root_force_n", tooth.root_force_n},
          {"level_db", tooth.level_db},
          {"root_stress_pa", tooth.root_stress_pa},
          {"ring_stress_pa", tooth.ring_stress_pa},
          {"safety_factor", tooth.safety_factor},
          {"sideways_m", tooth.sideways_m}};
}

Json limit_json(const steel::CombLimit& limit) {
  return {{"limit", limit.name},
          {"bound", limit.bound},
          {"bound_text", steel::to_text(limit, limit.bound)},
          {"worst", limit.worst},
          {"worst_text", steel::to_text(limit, limit.worst)},
          {"margin", limit.margin},
          {"track", limit.track},
          {"broken", limit.broken}};
}

Json comb_json(const box::Box& box, const box::Comb& comb, const steel::CombDesign& design) {
  const steel::Plate plate = steel::plate(box, comb, design);
  Json json = {{"comb", design.name},
               {"plate_thickness_m", comb.plate_thickness_m},
               {"plate_inner_radius_m", plate.inner_radius_m},
               {"plate_width_m", plate.width_m},
               {"plate_depth_m", plate.depth_m},
               {"screw_radius_m", plate.screw_radius_m},
               {"screws_from_tips_m", plate.screws_from_tips_m},
               {"bend", design.curves.bend},
               {"stoutness", design.curves.stoutness},
               {"taper", design.curves.taper},
               {"lines", steel::lines(design.curves)},
               {"force_ratio", design.force_ratio},
               {"loudness_db", design.loudness_db},
               {"ring_stress_limit_pa", design.ring_stress_limit_pa},
               {"cut_spread_cents", design.cut_spread.within_95_cents()}};
  json["limits"] = Json::array();
  for (const steel::CombLimit& limit : design.limits) json["limits"].push_back(limit_json(limit));
  json["saw_cuts"] = Json::array();
  for (const steel::SawCut& cut : steel::saw_cuts(box, comb, design)) {
    json["saw_cuts"].push_back({{"track", cut.track},
                                {"radius_m", cut.radius_m},
                                {"from_edge_m", cut.from_edge_m},
                                {"length_m", cut.length_m}});
  }
  return json;
}

Json tracks_json(const steel::LeadCut& cut, const std::vector<steel::CombDesign>& designs) {
  Json json = Json::array();
  for (const steel::ToothPlace& tooth : cut.teeth)
    json.push_back({{"comb", designs[tooth.comb].name}, {"track", tooth.track}});
  return json;
}

Json steel_json(const steel::Tooth& tooth) {
  return {{"modulus_pa", tooth.steel.modulus_pa},
          {"density_kg_m3", tooth.steel.density_kg_m3},
          {"poisson_ratio", tooth.steel.poisson_ratio},
          {"shear_coefficient", tooth.shear_coefficient}};
}

}  // namespace

Json to_json(const box::Box& box, const std::vector<steel::CombDesign>& designs,
             const Findings& findings) {
  Json json = {{"box", box.name},
               {"steel", steel_json(designs.front().teeth.front().in_tune)},
               {"lead_metal", box::to_text(box.lead.metal)},
               {"lead_tip_gap_m", box.lead.tip_gap_m}};
  json["combs"] = Json::array();
  json["teeth"] = Json::array();
  for (std::size_t i = 0; i < designs.size(); ++i) {
    json["combs"].push_back(comb_json(box, box.combs[i], designs[i]));
    for (const steel::CombTooth& tooth : designs[i].teeth)
      json["teeth"].push_back(tooth_json(box, designs[i], tooth));
  }
  json["lead_cuts"] = Json::array();
  for (const steel::LeadCut& cut : steel::lead_cuts(designs)) {
    json["lead_cuts"].push_back({{"height_m", cut.height_m},
                                 {"width_m", cut.width_m},
                                 {"length_m", cut.length_m},
                                 {"mass_kg", cut.mass_kg},
                                 {"count", cut.teeth.size()},
                                 {"tracks", tracks_json(cut, designs)}});
  }
  json["findings"] = disc::to_json(findings);
  return json;
}

}  // namespace combwright::app
