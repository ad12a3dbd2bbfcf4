// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/comb.h"

namespace combwright::steel {

// Where a tooth's pitch lies between saw and last clip, at 20 C.
struct PitchRange {
  double as_cut_hz = 0.0;
  double target_hz = 0.0;
};

// Of every tooth of a comb whose design holds at this temperature.
std::vector<PitchRange> pitch_ranges(const CombDesign& design, double temperature_c);

}  // namespace combwright::steel
