// SPDX-License-Identifier: Apache-2.0
#include "motor/governor.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace combwright::motor {
namespace {

GovernorLaw vanes_law(const box::Governor& g) {
  const double inner = g.vane_inner_radius_m;
  const double outer = g.vane_outer_radius_m;
  const double square = g.vane_count * 0.5 * air_density * g.vane_drag * g.vane_width_m *
                        (std::pow(outer, 4) - std::pow(inner, 4)) / 4.0;
  const double turn = std::sin(g.vane_pitch_rad);
  return {.square_n_m_s2 = square * turn * turn,
          .inertia_kg_m2 = g.vane_count * g.vane_mass_kg *
                           (outer * outer + outer * inner + inner * inner) / 3.0};
}

GovernorLaw weights_law(const box::Governor& g) {
  const double per_force = g.pad_friction * g.pad_radius_m * g.weight_count;
  const double throw_kg_m = g.weight_mass_kg * g.weight_radius_m;
  return {.square_n_m_s2 = per_force * throw_kg_m,
          .offset_n_m = per_force * g.weight_preload_n,
          .grip_rad2_s2 = g.weight_preload_n / throw_kg_m,
          .inertia_kg_m2 = g.weight_count * throw_kg_m * g.weight_radius_m};
}

// The bounds of governor.weight_preload and governor.vane_pitch.
constexpr double most_preload_n = 100.0;
constexpr double least_pitch_rad = 5.0 * std::numbers::pi / 180.0;
constexpr double most_pitch_rad = std::numbers::pi / 2.0;

Hold hold_of(double torque_n_m, bool weak, bool strong) {
  if (!(torque_n_m > 0.0)) return Hold::no_torque;
  if (weak) return Hold::too_weak;
  return strong ? Hold::too_strong : Hold::holds;
}

}  // namespace

GovernorLaw governor_law(const box::Governor& governor) {
  return governor.kind == box::GovernorKind::vane ? vanes_law(governor) : weights_law(governor);
}

double brake_n_m(const GovernorLaw& law, double speed_rad_s) {
  return std::max(0.0, law.square_n_m_s2 * speed_rad_s * speed_rad_s - law.offset_n_m);
}

Setting set_to(box::Governor governor, double speed_rad_s, double torque_n_m) {
  const double square = speed_rad_s * speed_rad_s;
  if (governor.kind == box::GovernorKind::friction) {
    const double pressed =
        torque_n_m / (governor.pad_friction * governor.pad_radius_m * governor.weight_count);
    const double preload = governor.weight_mass_kg * governor.weight_radius_m * square - pressed;
    governor.weight_preload_n = std::clamp(preload, 0.0, most_preload_n);
    return {governor, hold_of(torque_n_m, preload<0.0, preload> most_preload_n)};
  }
  governor.vane_pitch_rad = most_pitch_rad;
  const double share = torque_n_m / (governor_law(governor).square_n_m_s2 * square);
  const double pitch = std::asin(std::sqrt(std::clamp(share, 0.0, 1.0)));
  governor.vane_pitch_rad = std::max(least_pitch_rad, pitch);
  return {governor, hold_of(torque_n_m, share > 1.0, pitch < least_pitch_rad)};
}

std::string_view hold_problem(Hold hold, box::GovernorKind kind) {
  const bool vane = kind == box::GovernorKind::vane;
  switch (hold) {
    case Hold::holds:
      return "";
    case Hold::too_weak:
      return vane ? "too weak: take more or larger blades, a friction governor, or another ratio"
                  : "too weak: take more or heavier weights, or another ratio";
    case Hold::too_strong:
      return vane ? "too strong: take fewer or smaller blades, or another ratio"
                  : "too strong: take fewer or lighter weights, or another ratio";
    case Hold::no_torque:
      break;
  }
  return "nothing left to brake: take a stronger strip, gear the disc lower, or write fewer notes";
}

}  // namespace combwright::motor
