// SPDX-License-Identifier: Apache-2.0
#include "steel/learning/unknowns.h"

#include <algorithm>
#include <cmath>

#include "box/correlation.h"
#include "music/pitch.h"
#include "steel/modes.h"

namespace combwright::steel {

Unknowns unknowns_of(const box::Box& box) {
  Unknowns unknowns{.combs = box.combs.size()};
  const auto size = static_cast<Eigen::Index>(unknowns.combs + 2);
  unknowns.before = Vector::Zero(size);
  unknowns.spread = Vector::Zero(size);
  for (std::size_t i = 0; i < unknowns.combs; ++i) {
    unknowns.before[static_cast<Eigen::Index>(i)] = box.combs[i].root_yield;
    unknowns.spread[static_cast<Eigen::Index>(i)] = box.combs[i].root_yield_spread;
  }
  unknowns.spread[unknowns.modulus()] = box.steel.modulus_spread;
  unknowns.spread[unknowns.density()] = box.lead.density_spread;
  unknowns.correlation = Matrix(size, size);
  const box::SquareMatrix correlation = box::correlation(box);
  for (std::size_t i = 0; i < correlation.size(); ++i)
    for (std::size_t j = 0; j < correlation.size(); ++j)
      unknowns.correlation(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
          correlation[i][j];
  return unknowns;
}

double pitch_hz(const CombTooth& designed, std::size_t comb, const Unknowns& unknowns,
                const Vector& at) {
  Tooth tooth = designed.as_cut;
  tooth.steel.modulus_pa *= std::exp(at[unknowns.modulus()]);
  for (Lead& lead : tooth.leads) lead.mass_kg *= std::exp(at[unknowns.density()]);
  const Section& root = tooth.sections.front();
  tooth.root = yielding_root(tooth.steel.modulus_pa, root.root_width_m, root.root_thickness_m,
                             at[static_cast<Eigen::Index>(comb)]);
  return first_mode_hz(tooth);
}

Vector slopes_cents(const CombTooth& designed, std::size_t comb, const Unknowns& unknowns,
                    const Vector& at) {
  constexpr double step = 1e-3;
  Vector result = Vector::Zero(unknowns.size());
  for (const Eigen::Index i :
       {static_cast<Eigen::Index>(comb), unknowns.modulus(), unknowns.density()}) {
    if (unknowns.spread[i] == 0.0 || (i == unknowns.density() && !designed.leaded())) continue;
    Vector up = at;
    Vector down = at;
    up[i] += step;
    down[i] -= step;
    if (i < unknowns.modulus()) down[i] = std::max(0.0, down[i]);
    result[i] = unknowns.spread[i] *
                music::cents(pitch_hz(designed, comb, unknowns, up) /
                             pitch_hz(designed, comb, unknowns, down)) /
                (up[i] - down[i]);
  }
  return result;
}

}  // namespace combwright::steel
