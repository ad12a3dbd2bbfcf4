// SPDX-License-Identifier: Apache-2.0
#include "steel/pitch_range.h"

#include <cmath>

#include "base/reference.h"
#include "steel/tuning.h"

namespace combwright::steel {

std::vector<PitchRange> pitch_ranges(const CombDesign& design, double temperature_c) {
  const double ratio = std::exp2(cents_per_k() * (reference_c - temperature_c) / 1200.0);
  std::vector<PitchRange> ranges;
  for (const CombTooth& tooth : design.teeth)
    ranges.push_back({ratio * tooth.modes_as_cut_hz[0], ratio * tooth.target_hz});
  return ranges;
}

}  // namespace combwright::steel
