// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/scale_worth.h"

namespace combwright::arrange {

// What no scale can exceed, whatever its notes.
struct ScaleBoundTask {
  std::vector<TuneWorth> tunes;     // at the slowest tempo that each may take; at least one
  double least_interval_s = 0.0;    // of any tooth
  int teeth = 0;
  int lowest_midi = 0;              // that a tooth may have
  int highest_midi = 127;
  std::vector<int> transpositions;  // that each tune may take
};

struct ScaleBounds {
  double any_keys = 1.0;  // each tune in whatever transposition suits it best
  double in_keys = 1.0;   // each tune in the transposition given
  std::vector<double> of_tune;  // with a scale of so many teeth to itself
};

// Upper bounds (0..1) on the mean over the tunes of what any scale of so many teeth in the range
// lets them earn under the rules of arranging. Every note that has an octave in the range gets an
// octave's worth for nothing; what its own pitch adds to that must be earned by teeth of that pitch,
// as many as it takes by interval scheduling, where plucks may come nearer by twice the move limit,
// at the worth of an unmoved note. In given keys the best teeth of such a problem are those that add
// most, one by one, as each more of a pitch adds less. With keys free, each tune gets a scale of its
// own and pays a price for each tooth of it that it shares with all (Lagrangian relaxation of "one
// scale for all"; any prices give a valid bound; improved in `rounds` subgradient steps).
// `keys`, by tune; `reached` is what some scale earns.
ScaleBounds scale_bounds(const ScaleBoundTask& task, const std::vector<int>& keys, double reached,
                         int rounds);

}  // namespace combwright::arrange
