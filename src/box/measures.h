// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <numbers>
#include <string>

#include "base/quantity.h"
#include "box/box.h"

// What the checks of a box measure on it.
namespace combwright::box {

inline constexpr double pi = std::numbers::pi;

// Lengths that differ by less are the same: the last place a maker writes is a hundredth of a
// millimetre.
inline constexpr double same_length_m = 1e-6;

inline std::string mm(double length_m) {
  return to_text(length_m, Dimension::length);
}

inline double outer_radius_m(const Box& box) {
  return box.tracks.inner_radius_m + (box.tracks.count - 1) * box.tracks.pitch_m;
}

// The disc travel between two plucks of one track can't be less than from point to point, nor than
// from one projection to the next.
inline double least_arc_m(const Box& box) {
  return std::max(2.0 * pi * box.star_wheel.tip_radius_m / box.star_wheel.points,
                  box.projection.length_m + box.projection.web_m);
}

}  // namespace combwright::box
