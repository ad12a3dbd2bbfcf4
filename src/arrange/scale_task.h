// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/scale_worth.h"

namespace combwright::arrange {

// What a scale is chosen for, or what no scale can exceed.
struct ScaleTask {
  std::vector<TuneWorth> tunes;    // at least one, each at one tempo
  std::vector<double> interval_s;  // of the tooth at each place of the scale, low to high
  int lowest_midi = 0;             // that a tooth may have
  int highest_midi = 127;
  std::vector<int> transpositions;  // that each tune may take; at least one
};

}  // namespace combwright::arrange
