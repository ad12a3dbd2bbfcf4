// SPDX-License-Identifier: Apache-2.0
#include "steel/design/curves.h"

#include <cmath>

namespace combwright::steel {

double length_m(const box::Comb& comb, const CombCurves& curves, double share) {
  return std::lerp(comb.shortest_tooth_m, comb.longest_tooth_m,
                   (1.0 - curves.bend) * share + curves.bend * share * share);
}

double root_thickness_m(const box::Comb& comb, const CombCurves& curves, double share) {
  // Lagrange's parabola through the logarithms at 0, 1/2 and 1.
  const double x = share;
  return length_m(comb, curves, share) *
         std::exp(std::log(curves.stoutness[0]) * (1.0 - x) * (1.0 - 2.0 * x) +
                  std::log(curves.stoutness[1]) * 4.0 * x * (1.0 - x) +
                  std::log(curves.stoutness[2]) * x * (2.0 * x - 1.0));
}

double taper(const CombCurves& curves, double share) {
  return std::lerp(curves.taper[0], curves.taper[1], share);
}

}  // namespace combwright::steel
