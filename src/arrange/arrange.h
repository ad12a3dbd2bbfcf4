// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "music/tune.h"

namespace combwright::arrange {

struct BarRange {
  int first = 1;  // as played, from 1, both ends included
  int last = 1;
};

struct Options {
  std::optional<BarRange> bars;            // default: chosen to fill the turn
  std::optional<int> transpose_semitones;  // default: the best of all
  std::optional<double> tempo_factor;      // default: the best the box allows
};

// The arrangement of the tune for the box that keeps most of its weight, with a proven bound on
// what any arrangement under the same rules could keep. Throws Error if the options ask for what
// the tune or the box can't give.
Arrangement arrange(const box::Box& box, const music::Tune& tune, const Options& options = {});

}  // namespace combwright::arrange
