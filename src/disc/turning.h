// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <numbers>

#include "box/box.h"

namespace combwright::disc {

inline constexpr double one_turn_rad = 2.0 * std::numbers::pi;

// The same angle with 0 <= angle < one turn.
inline double within_one_turn(double angle_rad) {
  const double wrapped = angle_rad - one_turn_rad * std::floor(angle_rad / one_turn_rad);
  return wrapped < one_turn_rad ? wrapped : 0.0;
}

// The way from one angle to another along the shorter side, 0..half a turn.
inline double angle_between(double a_rad, double b_rad) {
  return std::abs(std::remainder(a_rad - b_rad, one_turn_rad));
}

// The angle that comes to the star wheels `touch_s` after the start line did. A disc that turns
// clockwise brings rising angles, one that turns the other way falling ones.
inline double angle_at(box::Turning turning, double touch_s, double turn_time_s) {
  const double turned = one_turn_rad * touch_s / turn_time_s;
  return within_one_turn(turning == box::Turning::clockwise ? turned : -turned);
}

// And back: when the angle comes to the star wheels, 0 <= time < one turn.
inline double touch_time_s(box::Turning turning, double angle_rad, double turn_time_s) {
  const double turned =
      within_one_turn(turning == box::Turning::clockwise ? angle_rad : -angle_rad);
  return turned / one_turn_rad * turn_time_s;
}

}  // namespace combwright::disc
