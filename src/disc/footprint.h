// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>

#include "box/box.h"

namespace combwright::disc {

struct Corner {
  double x_m = 0.0;
  double y_m = 0.0;
};

// The corners of what one hit leaves: a straight rectangle whose leading edge lies on the radius at
// `angle_rad`, its middle at `radius_m`, and which trails from there square to that radius, against
// the way the disc turns. Order: inner and outer end of the leading edge, outer and inner end of
// the trailing one. Origin and angles as in Projection.
inline std::array<Corner, 4> footprint(const box::Box& box, double radius_m, double angle_rad) {
  const double trail_m = box.disc.turning == box::Turning::clockwise ? box.projection.length_m
                                                                     : -box.projection.length_m;
  const double inner_m = radius_m - box.projection.width_m / 2.0;
  const double outer_m = radius_m + box.projection.width_m / 2.0;
  const double c = std::cos(angle_rad);
  const double s = std::sin(angle_rad);
  const auto corner = [c, s](double out_m, double along_m) {
    return Corner{out_m * c - along_m * s, out_m * s + along_m * c};
  };
  return {corner(inner_m, 0.0), corner(outer_m, 0.0), corner(outer_m, trail_m),
          corner(inner_m, trail_m)};
}

}  // namespace combwright::disc
