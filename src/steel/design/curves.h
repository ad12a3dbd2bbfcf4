// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/design/bench.h"

// The three lines of CombCurves at a share of the comb.
namespace combwright::steel {

double length_m(const box::Comb& comb, const CombCurves& curves, double share);
double root_thickness_m(const box::Comb& comb, const CombCurves& curves, double share);
double taper(const CombCurves& curves, double share);

}  // namespace combwright::steel
