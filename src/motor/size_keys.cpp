// SPDX-License-Identifier: Apache-2.0
#include <numbers>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "motor/size.h"

namespace combwright::motor {
namespace {

std::string motor_lines(const box::Motor& made, const box::Motor& now) {
  std::string text;
  if (made.turn_time_s != now.turn_time_s)
    text += fmt::format("turn_time = \"{:.6g} s\"\n", made.turn_time_s);
  if (made.tempo_drop != now.tempo_drop)
    text += fmt::format("tempo_drop = \"{:.4g} %\"\n", 100.0 * made.tempo_drop);
  return text.empty() ? text : "[motor]\n" + text + "\n";
}

}  // namespace

std::string box_lines(const box::Box& box, const box::Box& now) {
  const auto mm = [](double value) { return fmt::format("\"{:.4g} mm\"", value * 1e3); };
  std::string text = motor_lines(box.motor, now.motor);
  text += fmt::format(
      "[spring]\nstrip_width = {}\nstrip_thickness = {}\nstrip_length = \"{:.4g} m\"\n"
      "barrel_radius = {}\narbor_radius = {}\nturns_used = {:.4g}\nturns_left_full = {:.4g}\n"
      "turns_per_disc_turn = {:.4g}\n\n",
      mm(box.spring.strip_width_m), mm(box.spring.strip_thickness_m), box.spring.strip_length_m,
      mm(box.spring.barrel_radius_m), mm(box.spring.arbor_radius_m), box.spring.turns_used,
      box.spring.turns_left_full, box.spring.turns_per_disc_turn);
  text +=
      fmt::format("[train]\nwheels = [{}]\npinions = [{}]\nmodule = {}\nface_width = {}\n\n",
                  fmt::join(box.train.wheel_teeth, ", "), fmt::join(box.train.pinion_teeth, ", "),
                  mm(box.train.module_m), mm(box.train.face_width_m));
  if (box.governor.kind == box::GovernorKind::vane) {
    text += fmt::format("[governor]\nkind = \"vane\"\nvane_pitch = \"{:.4g} deg\"\n",
                        box.governor.vane_pitch_rad * 180.0 / std::numbers::pi);
  } else {
    text += fmt::format(
        "[governor]\nkind = \"friction\"\nweight_mass = \"{:.4g} g\"\nweight_preload = "
        "\"{:.4g} N\"\n",
        box.governor.weight_mass_kg * 1e3, box.governor.weight_preload_n);
  }
  return text;
}

}  // namespace combwright::motor
