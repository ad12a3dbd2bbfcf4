// SPDX-License-Identifier: Apache-2.0
#include <utility>

#include "app/answers.h"
#include "disc/plan_json.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

Json tracks_json(const box::Box& box) {
  Json list = Json::array();
  for (const box::Track& track : box::tracks(box)) {
    list.push_back({{"track", track.number},
                    {"radius_m", track.radius_m},
                    {"midi", track.midi},
                    {"note", music::note_name(track.midi)}});
  }
  Json json = disc::to_json(box.tracks);
  json["list"] = std::move(list);
  return json;
}

Json combs_json(const std::vector<box::Comb>& combs) {
  Json list = Json::array();
  for (const box::Comb& comb : combs) {
    list.push_back({{"name", comb.name},
                    {"offset_cents", comb.offset_cents},
                    {"tooth_width_m", comb.tooth_width_m},
                    {"tooth_gap_m", comb.tooth_gap_m},
                    {"plate_thickness_m", comb.plate_thickness_m},
                    {"bar_depth_m", comb.bar_depth_m},
                    {"screws", comb.screws},
                    {"screw_hole_m", comb.screw_hole_m},
                    {"longest_tooth_m", comb.longest_tooth_m},
                    {"shortest_tooth_m", comb.shortest_tooth_m},
                    {"beat_low_hz", comb.beat_low_hz},
                    {"beat_high_hz", comb.beat_high_hz},
                    {"thinnest_m", comb.thinnest_m},
                    {"root_yield", comb.root_yield},
                    {"root_yield_spread", comb.root_yield_spread},
                    {"safety_factor", comb.safety_factor},
                    {"least_flat_cents", comb.least_flat_cents},
                    {"most_flat_cents", comb.most_flat_cents},
                    {"lines", comb.lines},
                    {"room_below_m", comb.room_below_m},
                    {"clearance_m", comb.clearance_m},
                    {"plucked", to_text(comb.plucked)},
                    {"level_m", comb.level_m}});
  }
  return list;
}

Json motor_json(const box::Motor& motor) {
  return {{"turn_time_s", motor.turn_time_s},
          {"slowest_tempo", motor.slowest_tempo},
          {"fastest_tempo", motor.fastest_tempo},
          {"most_plucks", motor.most_plucks},
          {"pluck_window_s", motor.pluck_window_s},
          {"tempo_drop", motor.tempo_drop},
          {"key_arm_m", motor.key_arm_m}};
}

Json spring_json(const box::Spring& spring) {
  return {{"strip_width_m", spring.strip_width_m},
          {"strip_thickness_m", spring.strip_thickness_m},
          {"strip_length_m", spring.strip_length_m},
          {"barrel_radius_m", spring.barrel_radius_m},
          {"arbor_radius_m", spring.arbor_radius_m},
          {"modulus_pa", spring.modulus_pa},
          {"stress_limit_pa", spring.stress_limit_pa},
          {"turns_used", spring.turns_used},
          {"turns_per_disc_turn", spring.turns_per_disc_turn},
          {"turns_left_full", spring.turns_left_full},
          {"coil_friction", spring.coil_friction},
          {"tensile_strength_pa", spring.tensile_strength_pa}};
}

Json train_json(const box::Train& train) {
  return {{"wheel_teeth", train.wheel_teeth},
          {"pinion_teeth", train.pinion_teeth},
          {"module_m", train.module_m},
          {"mesh_efficiency", train.mesh_efficiency},
          {"disc_mesh_efficiency", train.disc_mesh_efficiency},
          {"screw_efficiency", train.screw_efficiency},
          {"face_width_m", train.face_width_m}};
}

Json governor_json(const box::Governor& governor) {
  Json json = {{"kind", governor.kind == box::GovernorKind::friction ? "friction" : "vane"}};
  if (governor.kind == box::GovernorKind::friction) {
    json["weight_count"] = governor.weight_count;
    json["weight_mass_kg"] = governor.weight_mass_kg;
    json["weight_radius_m"] = governor.weight_radius_m;
    json["weight_preload_n"] = governor.weight_preload_n;
    json["pad_radius_m"] = governor.pad_radius_m;
    json["pad_friction"] = governor.pad_friction;
  } else {
    json["vane_count"] = governor.vane_count;
    json["vane_mass_kg"] = governor.vane_mass_kg;
    json["vane_width_m"] = governor.vane_width_m;
    json["vane_inner_radius_m"] = governor.vane_inner_radius_m;
    json["vane_outer_radius_m"] = governor.vane_outer_radius_m;
    json["vane_drag"] = governor.vane_drag;
    json["vane_pitch_rad"] = governor.vane_pitch_rad;
  }
  return json;
}

Json soundboard_json(const box::Soundboard& board) {
  return {{"length_m", board.length_m},
          {"width_m", board.width_m},
          {"thickness_m", board.thickness_m},
          {"modulus_along_pa", board.modulus_along_pa},
          {"modulus_across_pa", board.modulus_across_pa},
          {"shear_modulus_pa", board.shear_modulus_pa},
          {"poisson_ratio", board.poisson_ratio},
          {"density_kg_m3", board.density_kg_m3}};
}

// What a plan holds of them, and the rest.
Json sheet_json(const box::Disc& disc) {
  Json json = disc::to_json(disc);
  json["yield_strength_pa"] = disc.yield_strength_pa;
  return json;
}

Json star_wheel_json(const box::StarWheel& wheel) {
  Json json = disc::to_json(wheel);
  json["thickness_m"] = wheel.thickness_m;
  json["density_kg_m3"] = wheel.density_kg_m3;
  json["friction"] = wheel.friction;
  json["brake_torque_nm"] = wheel.brake_torque_nm;
  return json;
}

Json damper_json(const box::Damper& damper) {
  Json json = disc::to_json(damper);
  json["stands_m"] = damper.stands_m;
  json["reach_m"] = damper.reach_m;
  json["ratio"] = damper.ratio;
  json["stiffness_n_m"] = damper.stiffness_n_m;
  return json;
}

}  // namespace

Json to_json(const box::Box& box) {
  return {{"name", box.name},
          {"disc", sheet_json(box.disc)},
          {"projection", disc::to_json(box.projection)},
          {"tracks", tracks_json(box)},
          {"star_wheel", star_wheel_json(box.star_wheel)},
          {"combs", combs_json(box.combs)},
          {"scale",
           {{"a4_hz", box.scale.a4_hz},
            {"temperament", box::temperament_words(box.scale)},
            {"temperament_cents", box::temperament(box.scale)},
            {"temperature_c", box.scale.temperature_c},
            {"midi", box.scale.midi}}},
          {"steel",
           {{"modulus_pa", box.steel.modulus_pa},
            {"modulus_spread", box.steel.modulus_spread},
            {"density_kg_m3", box.steel.density_kg_m3},
            {"poisson_ratio", box.steel.poisson_ratio},
            {"strength_pa", box.steel.strength_pa}}},
          {"lead",
           {{"metal", box::to_text(box.lead.metal)},
            {"modulus_pa", box.lead.modulus_pa},
            {"density_kg_m3", box.lead.density_kg_m3},
            {"density_spread", box.lead.density_spread},
            {"tip_gap_m", box.lead.tip_gap_m},
            {"longest", box.lead.longest},
            {"coarsest_step_cents", box.lead.coarsest_step_cents}}},
          {"learnt",
           {{"scatter_cents", box.learnt.scatter_cents}, {"correlation", box.learnt.correlation}}},
          {"damper", damper_json(box.damper)},
          {"motor", motor_json(box.motor)},
          {"spring", spring_json(box.spring)},
          {"train", train_json(box.train)},
          {"governor", governor_json(box.governor)},
          {"friction",
           {{"roller_force_n", box.friction.roller_force_n},
            {"roller", box.friction.roller},
            {"spindle", box.friction.spindle}}},
          {"hold_down", disc::to_json(box.hold_down)},
          {"soundboard", soundboard_json(box.soundboard)},
          {"cabinet",
           {{"length_m", box.cabinet.length_m},
            {"width_m", box.cabinet.width_m},
            {"height_m", box.cabinet.height_m}}}};
}

}  // namespace combwright::app
