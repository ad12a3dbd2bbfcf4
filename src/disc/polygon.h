// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "disc/footprint.h"

namespace combwright::disc {

using Rectangle = std::array<Corner, 4>;

// Least distance between a point and a straight line from a to b, both ends counted.
double distance_m(const Corner& point, const Corner& a, const Corner& b);

// Least distance between two rectangles; 0 where they touch or overlap.
double distance_m(const Rectangle& a, const Rectangle& b);

// Least distance from a rectangle to a point; 0 inside.
double distance_m(const Rectangle& rectangle, const Corner& point);

// Least and greatest distance of a rectangle from the origin.
struct Reach {
  double inner_m = 0.0;
  double outer_m = 0.0;
};
Reach reach(const Rectangle& rectangle);

}  // namespace combwright::disc
