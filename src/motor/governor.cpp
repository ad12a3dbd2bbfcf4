// SPDX-License-Identifier: Apache-2.0
#include "motor/governor.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace combwright::motor {
namespace {

GovernorLaw vanes(const box::Governor& g) {
  const double inner = g.vane_inner_radius_m;
  const double outer = g.vane_outer_radius_m;
  const double square = g.vane_count * 0.5 * air_density * g.vane_drag * g.vane_width_m *
                        (std::pow(outer, 4) - std::pow(inner, 4)) / 4.0;
  const double turn = std::sin(g.vane_pitch_rad);
  return {.square_n_m_s2 = square * turn * turn,
          .inertia_kg_m2 = g.vane_count * g.vane_mass_kg *
                           (outer * outer + outer * inner + inner * inner) / 3.0};
}

GovernorLaw weights(const box::Governor& g) {
  const double per_force = g.pad_friction * g.pad_radius_m * g.weight_count;
  const double throw_kg_m = g.weight_mass_kg * g.weight_radius_m;
  return {.square_n_m_s2 = per_force * throw_kg_m,
          .offset_n_m = per_force * g.weight_preload_n,
          .grip_rad2_s2 = g.weight_preload_n / throw_kg_m,
          .inertia_kg_m2 = g.weight_count * throw_kg_m * g.weight_radius_m};
}

}  // namespace

GovernorLaw governor_law(const box::Governor& governor) {
  return governor.kind == box::GovernorKind::vane ? vanes(governor) : weights(governor);
}

double brake_n_m(const GovernorLaw& law, double speed_rad_s) {
  return std::max(0.0, law.square_n_m_s2 * speed_rad_s * speed_rad_s - law.offset_n_m);
}

box::Governor set_to(box::Governor governor, double speed_rad_s, double torque_n_m) {
  const double square = speed_rad_s * speed_rad_s;
  if (governor.kind == box::GovernorKind::friction) {
    const double pressed =
        torque_n_m / (governor.pad_friction * governor.pad_radius_m * governor.weight_count);
    governor.weight_preload_n =
        std::max(0.0, governor.weight_mass_kg * governor.weight_radius_m * square - pressed);
    return governor;
  }
  governor.vane_pitch_rad = std::numbers::pi / 2.0;
  const double share = torque_n_m / (governor_law(governor).square_n_m_s2 * square);
  constexpr double least = 5.0 * std::numbers::pi / 180.0;
  governor.vane_pitch_rad = std::max(least, std::asin(std::sqrt(std::clamp(share, 0.0, 1.0))));
  return governor;
}

}  // namespace combwright::motor
