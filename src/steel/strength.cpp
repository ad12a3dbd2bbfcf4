// SPDX-License-Identifier: Apache-2.0
#include "steel/strength.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace combwright::steel {

double endurance_limit_pa(double strength_pa, Finish finish) {
  assert(strength_pa > 0.0);
  const double strength_mpa = 1e-6 * strength_pa;
  const double surface = finish == Finish::ground ? 1.58 * std::pow(strength_mpa, -0.085)
                                                  : 4.51 * std::pow(strength_mpa, -0.265);
  return std::min(surface, 1.0) * std::min(0.5 * strength_pa, 700e6);
}

double goodman_factor(double least_pa, double greatest_pa, double endurance_pa,
                      double strength_pa) {
  assert(least_pa <= greatest_pa && endurance_pa > 0.0 && strength_pa > 0.0);
  const double amplitude = 0.5 * (greatest_pa - least_pa);
  const double mean = std::max(0.0, 0.5 * (greatest_pa + least_pa));
  return 1.0 / (amplitude / endurance_pa + mean / strength_pa);
}

}  // namespace combwright::steel
