// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <numbers>

#include "box/barrel_turns.h"
#include "box/box_key_parts.h"
#include "box/hold_down.h"
#include "box/key_binding.h"
#include "box/measures.h"

namespace combwright::box {
namespace {

using D = Dimension;
using enum Otherwise;

// The strip that gives most turns fills half of the room between arbor and barrel (physics of
// the barrel: L = pi (R^2 - r^2) / (2 h)).
double best_strip_length_m(const Spring& spring) {
  const double free_area = std::numbers::pi * (spring.barrel_radius_m * spring.barrel_radius_m -
                                               spring.arbor_radius_m * spring.arbor_radius_m);
  return free_area / (2.0 * spring.strip_thickness_m);
}

}  // namespace

BoxKeys motor_keys() {
  return {
      {{"motor", "turn_time", Kind::quantity, D::time, "5 s", "600 s", required, "",
        "Of one turn of the disc."},
       set<&Box::motor, &Motor::turn_time_s>},
      {{"motor", "slowest_tempo", Kind::quantity, D::ratio, "25 %", "100 %", fallback, "90 %",
        "Least share of a tune's own tempo that the arranger may choose."},
       set<&Box::motor, &Motor::slowest_tempo>},
      {{"motor", "fastest_tempo", Kind::quantity, D::ratio, "100 %", "400 %", fallback, "110 %",
        "Greatest share of it."},
       set<&Box::motor, &Motor::fastest_tempo>},
      {{"motor",
        "most_plucks",
        Kind::integer,
        {},
        "1",
        "400",
        required,
        "",
        "Notes that the motor can take within pluck_window."},
       set<&Box::motor, &Motor::most_plucks>},
      {{"motor", "pluck_window", Kind::quantity, D::time, "1 ms", "2 s", fallback, "80 ms",
        "See most_plucks."},
       set<&Box::motor, &Motor::pluck_window_s>},
      {{"motor", "tempo_drop", Kind::quantity, D::ratio, "0.1 %", "50 %", fallback, "2.5 %",
        "Loss of speed over the turns used of a wind that is let pass; a drop of 2.5 % is just "
        "heard."},
       set<&Box::motor, &Motor::tempo_drop>},
      {{"motor", "key_arm", Kind::quantity, D::length, "5 mm", "500 mm", fallback, "50 mm",
        "Of the winding key, from its axis to the hand."},
       set<&Box::motor, &Motor::key_arm_m>},
  };
}

BoxKeys spring_keys() {
  return {
      {{"spring", "strip_width", Kind::quantity, D::length, "1 mm", "200 mm", fallback, "30 mm",
        "Of the mainspring."},
       set<&Box::spring, &Spring::strip_width_m>},
      {{"spring", "strip_thickness", Kind::quantity, D::length, "0.05 mm", "3 mm", fallback,
        "0.5 mm", "Of the mainspring."},
       set<&Box::spring, &Spring::strip_thickness_m>},
      {{"spring", "barrel_radius", Kind::quantity, D::length, "3 mm", "200 mm", fallback, "46 mm",
        "Inside."},
       set<&Box::spring, &Spring::barrel_radius_m>},
      {{"spring", "arbor_radius", Kind::quantity, D::length, "0.5 mm", "100 mm", fallback,
        "12.5 mm", "Of the core that the strip winds on."},
       set<&Box::spring, &Spring::arbor_radius_m>},
      {{"spring", "strip_length", Kind::quantity, D::length, "50 mm", "100 m", derived,
        "half the room in the barrel filled, which gives most turns", "Of the mainspring."},
       set<&Box::spring, &Spring::strip_length_m>,
       [](const Box& box, std::size_t) -> Value { return best_strip_length_m(box.spring); }},
      {{"spring", "modulus", Kind::quantity, D::pressure, "50 GPa", "400 GPa", fallback, "205 GPa",
        "Young's modulus of the strip."},
       set<&Box::spring, &Spring::modulus_pa>},
      {{"spring", "stress_limit", Kind::quantity, D::pressure, "100 MPa", "4000 MPa", fallback,
        "1400 MPa", "Bending stress that the strip bears without setting further."},
       set<&Box::spring, &Spring::stress_limit_pa>},
      {{"spring",
        "turns_used",
        Kind::number,
        {},
        "0.25",
        "100",
        fallback,
        "8",
        "Turns of the barrel from full to stopped."},
       set<&Box::spring, &Spring::turns_used>},
      {{"spring",
        "turns_per_disc_turn",
        Kind::number,
        {},
        "0.01",
        "100",
        fallback,
        "2",
        "Turns of the barrel for one turn of the disc."},
       set<&Box::spring, &Spring::turns_per_disc_turn>},
      {{"spring",
        "turns_left_full",
        Kind::number,
        {},
        "0",
        "100",
        derived,
        "a quarter of the turns that turns_used leaves: the torque falls off sooner at the other "
        "end",
        "Turns of the barrel that the stop work keeps unused at the full end."},
       set<&Box::spring, &Spring::turns_left_full>,
       [](const Box& box, std::size_t) -> Value { return default_turns_left_full(box.spring); }},
      {{"spring", "coil_friction", Kind::quantity, D::ratio, "0 %", "50 %", fallback, "8 %",
        "Of the spring's torque, taken by coils that rub: less of it drives, more of it is needed "
        "to wind."},
       set<&Box::spring, &Spring::coil_friction>},
      {{"spring", "tensile_strength", Kind::quantity, D::pressure, "500 MPa", "4000 MPa", fallback,
        "1900 MPa", "Of the strip."},
       set<&Box::spring, &Spring::tensile_strength_pa>},
  };
}

BoxKeys train_keys() {
  return {
      {{"train",
        "wheels",
        Kind::integers,
        {},
        "12",
        "400",
        fallback,
        "96, 80, 72",
        "Teeth of the wheels from the barrel up to the governor."},
       set<&Box::train, &Train::wheel_teeth>},
      {{"train",
        "pinions",
        Kind::integers,
        {},
        "1",
        "100",
        fallback,
        "8, 8, 6",
        "Leaves of the pinions that they drive; 1 for an endless screw."},
       set<&Box::train, &Train::pinion_teeth>},
      {{"train", "module", Kind::quantity, D::length, "0.1 mm", "10 mm", fallback, "0.8 mm",
        "Of the first wheel."},
       set<&Box::train, &Train::module_m>},
      {{"train", "mesh_efficiency", Kind::quantity, D::ratio, "10 %", "100 %", fallback, "92 %",
        "Of each wheel and its pinion, bearings included."},
       set<&Box::train, &Train::mesh_efficiency>},
      {{"train", "disc_mesh_efficiency", Kind::quantity, D::ratio, "10 %", "100 %", derived,
        "mesh_efficiency", "Of the pair that drives the disc from the barrel."},
       set<&Box::train, &Train::disc_mesh_efficiency>,
       [](const Box& box, std::size_t) -> Value { return box.train.mesh_efficiency; }},
      {{"train", "screw_efficiency", Kind::quantity, D::ratio, "5 %", "95 %", fallback, "40 %",
        "Of a wheel that drives an endless screw."},
       set<&Box::train, &Train::screw_efficiency>},
      {{"train", "face_width", Kind::quantity, D::length, "0.2 mm", "100 mm", derived,
        "six modules", "Of the first wheel."},
       set<&Box::train, &Train::face_width_m>,
       [](const Box& box, std::size_t) -> Value { return 6.0 * box.train.module_m; }},
      {{"governor",
        "kind",
        Kind::choice,
        {},
        "",
        "",
        fallback,
        "friction",
        "What holds the speed.",
        {"friction", "vane"}},
       set<&Box::governor, &Governor::kind>},
      {{"governor",
        "weights",
        Kind::integer,
        {},
        "1",
        "12",
        fallback,
        "2",
        "Friction: flying weights."},
       set<&Box::governor, &Governor::weight_count>},
      {{"governor", "weight_mass", Kind::quantity, D::mass, "10 mg", "1 kg", fallback, "1.5 g",
        "Friction: of each."},
       set<&Box::governor, &Governor::weight_mass_kg>},
      {{"governor", "weight_radius", Kind::quantity, D::length, "0.5 mm", "200 mm", fallback,
        "10 mm", "Friction: of their centres when they touch."},
       set<&Box::governor, &Governor::weight_radius_m>},
      {{"governor", "weight_preload", Kind::quantity, D::force, "0 N", "100 N", fallback, "0.9 N",
        "Friction: force of the spring that holds each weight in."},
       set<&Box::governor, &Governor::weight_preload_n>},
      {{"governor", "pad_radius", Kind::quantity, D::length, "0.5 mm", "200 mm", fallback, "12 mm",
        "Friction: where the pads rub."},
       set<&Box::governor, &Governor::pad_radius_m>},
      {{"governor",
        "pad_friction",
        Kind::number,
        {},
        "0.01",
        "2",
        fallback,
        "0.2",
        "Friction: coefficient of leather or felt on the plate."},
       set<&Box::governor, &Governor::pad_friction>},
      {{"governor", "vanes", Kind::integer, {}, "1", "12", fallback, "2", "Vane: how many."},
       set<&Box::governor, &Governor::vane_count>},
      {{"governor", "vane_mass", Kind::quantity, D::mass, "1 mg", "1 kg", fallback, "300 mg",
        "Vane: of each."},
       set<&Box::governor, &Governor::vane_mass_kg>},
      {{"governor", "vane_width", Kind::quantity, D::length, "0.5 mm", "300 mm", fallback, "12 mm",
        "Vane: along the arbor."},
       set<&Box::governor, &Governor::vane_width_m>},
      {{"governor", "vane_inner_radius", Kind::quantity, D::length, "0 mm", "200 mm", fallback,
        "5 mm", "Vane: where it begins."},
       set<&Box::governor, &Governor::vane_inner_radius_m>},
      {{"governor", "vane_outer_radius", Kind::quantity, D::length, "1 mm", "300 mm", fallback,
        "20 mm", "Vane: where it ends."},
       set<&Box::governor, &Governor::vane_outer_radius_m>},
      {{"governor",
        "vane_drag",
        Kind::number,
        {},
        "0.1",
        "3",
        fallback,
        "1.17",
        "Vane: drag coefficient; fit it to the speed measured."},
       set<&Box::governor, &Governor::vane_drag>},
      {{"governor", "vane_pitch", Kind::quantity, D::angle, "5 deg", "90 deg", fallback, "90 deg",
        "Vane: angle of the blades, 90 deg square to their way."},
       set<&Box::governor, &Governor::vane_pitch_rad>},
  };
}

BoxKeys friction_keys() {
  return {
      {{"friction", "roller_force", Kind::quantity, D::force, "0 N", "100 N", fallback, "1.5 N",
        "Of each roller of the hold-down bar on the disc."},
       set<&Box::friction, &Friction::roller_force_n>},
      {{"friction",
        "roller",
        Kind::number,
        {},
        "0",
        "1",
        fallback,
        "0.05",
        "Force along the disc that a roller takes, to its force on the disc."},
       set<&Box::friction, &Friction::roller>},
      {{"friction",
        "spindle",
        Kind::number,
        {},
        "0",
        "1",
        fallback,
        "0.15",
        "Coefficient: the disc's weight on its spindle."},
       set<&Box::friction, &Friction::spindle>},
  };
}

BoxKeys hold_down_keys() {
  return {
      {{"hold_down", "roller_width", Kind::quantity, D::length, "0.2 mm", "50 mm", derived,
        "what runs between the two middle tracks, at most 3 mm", "Of each roller."},
       set<&Box::hold_down, &HoldDownBar::roller_width_m>,
       [](const Box& box, std::size_t) -> Value { return default_roller_width_m(box); }},
      {{"hold_down", "rollers", Kind::quantities, D::length, "1 mm", "500 mm", derived,
        "one inside the tracks, one between the two middle ones, one at the edge, where they fit",
        "Radii at which the hold-down bar's rollers run on the disc."},
       set<&Box::hold_down, &HoldDownBar::roller_radius_m>,
       [](const Box& box, std::size_t) -> Value { return default_roller_radii_m(box); }},
  };
}

BoxKeys case_keys() {
  return {
      {{"cabinet", "length", Kind::quantity, D::length, "50 mm", "3 m", derived,
        "disc.diameter and a tenth", "Inside, along the soundboard's grain."},
       set<&Box::cabinet, &Cabinet::length_m>,
       [](const Box& box, std::size_t) -> Value { return 1.1 * box.disc.diameter_m; }},
      {{"cabinet", "width", Kind::quantity, D::length, "50 mm", "3 m", derived,
        "disc.diameter and a twentieth, or twice what a comb reaches beside the star wheels",
        "Inside, across it."},
       set<&Box::cabinet, &Cabinet::width_m>,
       [](const Box& box, std::size_t) -> Value {
         double width_m = 1.05 * box.disc.diameter_m;
         for (const Comb& comb : box.combs)
           width_m = std::max(width_m, 2.0 * comb_reach_m(box, comb));
         return width_m;
       }},
      {{"cabinet", "height", Kind::quantity, D::length, "20 mm", "3 m", derived,
        "half of disc.diameter", "Inside, under the bedplate."},
       set<&Box::cabinet, &Cabinet::height_m>,
       [](const Box& box, std::size_t) -> Value { return 0.5 * box.disc.diameter_m; }},
      {{"soundboard", "length", Kind::quantity, D::length, "30 mm", "3 m", derived,
        "cabinet.length less 10 mm", "Along the grain."},
       set<&Box::soundboard, &Soundboard::length_m>,
       [](const Box& box, std::size_t) -> Value { return box.cabinet.length_m - 0.010; }},
      {{"soundboard", "width", Kind::quantity, D::length, "30 mm", "3 m", derived,
        "cabinet.width less 10 mm", "Across the grain."},
       set<&Box::soundboard, &Soundboard::width_m>,
       [](const Box& box, std::size_t) -> Value { return box.cabinet.width_m - 0.010; }},
      {{"soundboard", "thickness", Kind::quantity, D::length, "0.5 mm", "30 mm", fallback, "6 mm",
        "Of the board."},
       set<&Box::soundboard, &Soundboard::thickness_m>},
  };
}

BoxKeys wood_keys() {
  return all_later<Box>({
      {{"soundboard", "modulus_along", Kind::quantity, D::pressure, "1 GPa", "100 GPa", fallback,
        "11.88 GPa", "Young's modulus along the grain; the defaults are Sitka spruce's."},
       set<&Box::soundboard, &Soundboard::modulus_along_pa>},
      {{"soundboard", "modulus_across", Kind::quantity, D::pressure, "0.05 GPa", "100 GPa",
        fallback, "0.927 GPa", "The same across the grain, quarter-sawn."},
       set<&Box::soundboard, &Soundboard::modulus_across_pa>},
      {{"soundboard", "shear_modulus", Kind::quantity, D::pressure, "0.05 GPa", "100 GPa", fallback,
        "0.760 GPa", "In the plane of the board."},
       set<&Box::soundboard, &Soundboard::shear_modulus_pa>},
      {{"soundboard",
        "poisson_ratio",
        Kind::number,
        {},
        "0",
        "0.499",
        fallback,
        "0.372",
        "Strain across the grain for stress along it."},
       set<&Box::soundboard, &Soundboard::poisson_ratio>},
      {{"soundboard", "density", Kind::quantity, D::density, "100 kg/m3", "3000 kg/m3", fallback,
        "448 kg/m3", "Of the wood at 12 % moisture."},
       set<&Box::soundboard, &Soundboard::density_kg_m3>},
  });
}

}  // namespace combwright::box
