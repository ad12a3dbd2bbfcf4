// SPDX-License-Identifier: Apache-2.0
#include "steel/lifted.h"

#include <algorithm>
#include <cmath>

#include "steel/solver/profile.h"

namespace combwright::steel {
namespace {

const Lead* stiffening(const Tooth& tooth, double position_m) {
  const auto found = std::find_if(tooth.leads.begin(), tooth.leads.end(), [&](const Lead& lead) {
    return lead.length_m > 0.0 && lead.modulus_pa > 0.0 && position_m > inner_end_m(lead) &&
           position_m < outer_end_m(lead);
  });
  return found == tooth.leads.end() ? nullptr : &*found;
}

// Stress at the steel's upper face for a moment of 1: it lies furthest from the common neutral
// axis, as weights hang below.
double stress_per_moment(const Tooth& tooth, double position_m) {
  const double width = width_m(tooth, position_m);
  const double thickness = thickness_m(tooth, position_m);
  const Lead* lead = stiffening(tooth, position_m);
  if (lead == nullptr) return 6.0 / (width * thickness * thickness);
  if (std::isinf(lead->modulus_pa)) return 0.0;
  const double modulus = tooth.steel.modulus_pa;
  const double steel_stretch = modulus * width * thickness;
  const double lead_stretch = lead->modulus_pa * lead->width_m * lead->height_m;
  const double axis_m = lead_stretch * lead->offset_m / (steel_stretch + lead_stretch);
  const double bending_n_m2 =
      (steel_stretch * thickness * thickness + lead_stretch * lead->height_m * lead->height_m) /
          12.0 +
      steel_stretch * axis_m * lead->offset_m;
  return modulus * (0.5 * thickness + axis_m) / bending_n_m2;
}

}  // namespace

std::vector<double> lifted_stress_pa(const Tooth& tooth, double tip_force_n,
                                     const std::vector<double>& positions_m) {
  const double length = length_m(tooth);
  std::vector<double> stresses;
  stresses.reserve(positions_m.size());
  for (const double position : positions_m)
    stresses.push_back(tip_force_n * (length - position) * stress_per_moment(tooth, position));
  return stresses;
}

}  // namespace combwright::steel
