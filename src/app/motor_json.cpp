// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "app/motor_answers.h"
#include "disc/plan_json.h"

namespace combwright::app {
namespace {

// The torque is shown at so many steps of the turns with torque.
constexpr int torque_steps = 100;

double torque_turns(const motor::SpringCurve& curve, int step) {
  return curve.least_turns() + curve.usable_turns() * step / torque_steps;
}

Json torque_json(const motor::SpringCurve& curve) {
  Json list = Json::array();
  for (int i = 0; i <= torque_steps; ++i) {
    const double turns = torque_turns(curve, i);
    list.push_back({turns, motor::torque_n_m(curve, turns)});
  }
  return list;
}

// With the coils' friction: while the hand winds, or while the box runs.
Json torque_json(const motor::Machine& machine,
                 double (*torque)(const motor::Machine&, double turns)) {
  Json list = Json::array();
  for (int i = 0; i <= torque_steps; ++i) {
    const double turns = torque_turns(machine.spring, i);
    list.push_back({turns, torque(machine, turns)});
  }
  return list;
}

Json speed_json(const motor::Wind& run) {
  Json list = Json::array();
  for (const motor::Turn& turn : run.turns) list.push_back({turn.end_s, turn.time_s});
  return list;
}

Json energy_json(const motor::Books& books) {
  return {{"spring", books.spring_j},     {"plucks", books.plucks_j}, {"train", books.train_j},
          {"governor", books.governor_j}, {"disc", books.disc_j},     {"left", books.left_j},
          {"coils", books.coils_j}};
}

Json margin_json(const std::optional<double>& margin) {
  return margin ? Json(*margin) : Json(nullptr);
}

Json spring_json(const box::Box& box, const motor::Prediction& p) {
  return {{"full_turns", p.machine.full_turns},
          {"last_turns", p.machine.last_turns},
          {"full_torque_nm", motor::torque_n_m(p.machine.spring, p.machine.full_turns)},
          {"last_torque_nm", motor::torque_n_m(p.machine.spring, p.machine.last_turns)},
          {"torque_per_turn_nm", motor::torque_per_turn_n_m(box.spring)},
          {"coil_friction", p.machine.coil_friction},
          {"greatest_stress_pa", p.life.greatest_pa},
          {"least_stress_pa", p.life.least_pa},
          {"reversed_stress_pa", finite_or_null(p.life.reversed_pa)},
          {"life_winds", finite_or_null(p.life.winds)}};
}

Json meshes_json(const std::vector<motor::Mesh>& meshes) {
  Json list = Json::array();
  for (const motor::Mesh& mesh : meshes) {
    list.push_back(
        {{"wheel", mesh.wheel},
         {"pinion", mesh.pinion},
         {"efficiency", mesh.efficiency},
         {"back_efficiency", mesh.back},
         {"wheel_torque_nm", mesh.wheel_torque_n_m},
         {"contact_ratio", mesh.contact_ratio ? Json(*mesh.contact_ratio) : Json(nullptr)},
         {"bending_stress_pa", mesh.bending_pa},
         {"contact_stress_pa", mesh.contact_pa}});
  }
  return list;
}

Json governor_json(const box::Box& box, const motor::Prediction& p) {
  Json json = {{"kind", box.governor.kind == box::GovernorKind::vane ? "vane" : "friction"},
               {"speed_rad_s", p.governor_speed_rad_s()},
               {"holds", p.hold == motor::Hold::holds}};
  if (box.governor.kind == box::GovernorKind::vane)
    json["set_vane_pitch_rad"] = p.set.vane_pitch_rad;
  else
    json["set_weight_preload_n"] = p.set.weight_preload_n;
  return json;
}

Json stall_json(const motor::Prediction& p) {
  if (!p.run.stalls) return nullptr;
  return {{"turn", p.plays + 1}, {"angle_rad", p.run.stall_rad}, {"time_s", p.run.time_s}};
}

Json stumble_json(const std::optional<motor::Stumble>& stumble) {
  if (!stumble) return nullptr;
  return {{"angle_rad", stumble->release_rad},
          {"interval_s", stumble->interval_s},
          {"late_s", stumble->late_s},
          {"heard_s", motor::heard_s(stumble->interval_s)}};
}

Json tune_json(const std::string& tune) {
  return tune.empty() ? Json(nullptr) : Json(tune);
}

}  // namespace

Json to_json(const box::Box& box, const std::string& tune, const motor::Prediction& p,
             const Findings& findings) {
  const motor::TimeBounds bounds = motor::turn_time_bounds(box.motor, p.turn_time_s);
  return {{"box", box.name},
          {"tune", tune_json(tune)},
          {"turn_time_s", p.turn_time_s},
          {"turn_time_bounds_s", {bounds.least_s, bounds.most_s}},
          {"turns_usable", p.machine.spring.usable_turns()},
          {"turns_used", p.winding.key_turns},
          {"torque", torque_json(p.machine.spring)},
          {"winding_torque", torque_json(p.machine, motor::winding_torque_n_m)},
          {"running_torque", torque_json(p.machine, motor::running_torque_n_m)},
          {"plays", p.plays},
          {"turns_without_stop", p.turns_without_stop},
          {"margin", margin_json(p.margin)},
          {"run_time_s", p.run.time_s},
          {"mean_turn_time_s", p.mean_turn_s},
          {"tempo_drop", p.tempo_drop},
          {"unevenness", p.unevenness},
          {"stumble", stumble_json(p.stumble)},
          {"speed", speed_json(p.run)},
          {"energy_j", energy_json(p.run.books)},
          {"stalls", p.run.stalls},
          {"stall", stall_json(p)},
          {"spring", spring_json(box, p)},
          {"train", meshes_json(p.meshes)},
          {"governor", governor_json(box, p)},
          {"winding",
           {{"key_turns", p.winding.key_turns},
            {"greatest_torque_nm", p.winding.greatest_torque_n_m},
            {"greatest_force_n", p.winding.greatest_force_n},
            {"work_j", p.winding.work_j}}},
          {"load",
           {{"plucks", p.plucks.size()},
            {"plucks_j", p.machine.load.pluck_j},
            {"star_wheels_j", p.machine.load.wheel_j},
            {"steady_nm", p.machine.load.steady_n_m}}},
          {"findings", disc::to_json(findings)}};
}

Json to_json(const box::Box& box, const std::string& tune, const motor::Sizing& sizing,
             const Findings& findings) {
  Json designs = Json::array();
  for (const motor::SizedMotor& design : sizing.designs) {
    const box::Box& made = design.box;
    const motor::Prediction& p = design.prediction;
    Json json = {{"strip_width_m", made.spring.strip_width_m},
                 {"strip_thickness_m", made.spring.strip_thickness_m},
                 {"strip_length_m", made.spring.strip_length_m},
                 {"barrel_radius_m", made.spring.barrel_radius_m},
                 {"arbor_radius_m", made.spring.arbor_radius_m},
                 {"turns_used", made.spring.turns_used},
                 {"turns_left_full", made.spring.turns_left_full},
                 {"turns_per_disc_turn", made.spring.turns_per_disc_turn},
                 {"wheels", made.train.wheel_teeth},
                 {"pinions", made.train.pinion_teeth},
                 {"module_m", made.train.module_m},
                 {"face_width_m", made.train.face_width_m},
                 {"governor", made.governor.kind == box::GovernorKind::vane ? "vane" : "friction"},
                 {"weight_mass_kg", made.governor.weight_mass_kg},
                 {"weight_preload_n", made.governor.weight_preload_n},
                 {"vane_pitch_rad", made.governor.vane_pitch_rad},
                 {"strip_mass_kg", design.strip_mass_kg},
                 {"plays", p.plays},
                 {"mean_turn_time_s", p.mean_turn_s},
                 {"tempo_drop", p.tempo_drop},
                 {"margin", margin_json(p.margin)},
                 {"greatest_force_n", p.winding.greatest_force_n},
                 {"life_winds", finite_or_null(p.life.winds)},
                 {"why", design.why},
                 {"keys", motor::box_lines(made, box)}};
    designs.push_back(std::move(json));
  }
  return {{"box", box.name},
          {"tune", tune_json(tune)},
          {"wishes",
           {{"plays", sizing.wishes.plays},
            {"turn_time_s", sizing.wishes.turn_time_s},
            {"tempo_drop", sizing.wishes.tempo_drop},
            {"barrel_radius_m", sizing.wishes.barrel_radius_m}}},
          {"designs", std::move(designs)},
          {"binding", sizing.binding},
          {"tried", sizing.tried},
          {"findings", disc::to_json(findings)}};
}

}  // namespace combwright::app
