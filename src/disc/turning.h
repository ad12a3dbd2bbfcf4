// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "base/angle.h"
#include "box/box.h"

namespace combwright::disc {

// The same angle with 0 <= angle < one turn.
inline double within_one_turn(double angle_rad) {
  const double wrapped = angle_rad - two_pi * std::floor(angle_rad / two_pi);
  return wrapped < two_pi ? wrapped : 0.0;
}

// The way from one angle to another along the shorter side, 0..half a turn.
inline double angle_between(double a_rad, double b_rad) {
  return std::abs(std::remainder(a_rad - b_rad, two_pi));
}

// The angle that comes to the star wheels `touch_s` after the start line did. A disc that turns
// clockwise brings rising angles, one that turns the other way falling ones.
inline double angle_at(box::Turning turning, double touch_s, double turn_time_s) {
  const double turned = two_pi * touch_s / turn_time_s;
  return within_one_turn(turning == box::Turning::clockwise ? turned : -turned);
}

// And back: when the angle comes to the star wheels, 0 <= time < one turn.
inline double touch_time_s(box::Turning turning, double angle_rad, double turn_time_s) {
  const double turned =
      within_one_turn(turning == box::Turning::clockwise ? angle_rad : -angle_rad);
  return turned / two_pi * turn_time_s;
}

}  // namespace combwright::disc
