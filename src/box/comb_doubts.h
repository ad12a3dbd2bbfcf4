// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "box/box.h"

namespace combwright::box {

// Strain at the root of a tooth that hardened and tempered spring steel stands when it is plucked:
// 0.5 % of 205 GPa are 1025 MPa, the yield strength of austempered 1090 steel (1020 MPa; ASM).
inline constexpr double most_root_strain = 0.005;

// Strain at the root of an unleaded tooth of even thickness with this pitch and length, its tip
// lifted by that much: 1.5 t d / L^2 (a beam clamped at one end, pulled at the other). Its
// thickness t = f L^2 / (0.1615 sqrt(E / rho)) makes its first mode sound at f (Euler-Bernoulli),
// but it is no thicker than the comb's plate.
double root_strain(const Box& box, const Comb& comb, double pitch_hz, double length_m,
                   double lift_m);

// What can be wrong with the combs as a whole: teeth lifted further than their steel stands, teeth
// that swing up into passing projections, combs that the cabinet has no room for.
Findings find_comb_doubts(const Box& box);

}  // namespace combwright::box
