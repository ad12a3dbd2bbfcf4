// SPDX-License-Identifier: Apache-2.0
#include "box/barrel_turns.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace combwright::box {

double coils(double core_m, double thickness_m, double length_m) {
  const double first = core_m + 0.5 * thickness_m;
  const auto counted = [&](double round_m) {
    const double square = first * first + thickness_m * round_m / std::numbers::pi;
    return (std::sqrt(std::max(0.0, square)) - first) / thickness_m;
  };
  // A coil climbs by the thickness: h / (4 pi) ln(last radius / first) of the strip goes into that.
  const double last = first + thickness_m * counted(length_m);
  if (!(last > 0.0)) return counted(length_m);
  return counted(length_m - thickness_m / (4.0 * std::numbers::pi) * std::log(last / first));
}

double barrel_turns(const Spring& spring) {
  const double h = spring.strip_thickness_m;
  return coils(spring.arbor_radius_m, h, spring.strip_length_m) -
         coils(spring.barrel_radius_m, -h, spring.strip_length_m);
}

double default_turns_left_full(const Spring& spring) {
  return 0.25 * std::max(0.0, barrel_turns(spring) - spring.turns_used);
}

}  // namespace combwright::box
