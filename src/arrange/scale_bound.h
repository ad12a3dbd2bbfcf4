// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/scale_task.h"
#include "base/watch.h"

namespace combwright::arrange {

// What no scale can exceed, whatever its notes.
struct ScaleBounds {
  double any_keys = 1.0;        // each tune in whatever transposition suits it best
  double in_keys = 1.0;         // each tune in the transposition given
  std::vector<double> of_tune;  // with a scale of so many teeth to itself
};

// Upper bounds (0..1) on the mean over the tunes of what any scale of so many teeth in the range
// lets them earn under the rules of arranging. Every note that has an octave in the range gets an
// octave's worth for nothing; what its own pitch adds to that must be earned by teeth of that
// pitch, as many as it takes by interval scheduling, where plucks may come nearer by twice the move
// limit, at the worth of an unmoved note. Teeth of one pitch all count as fast as the fastest of
// them, and that one as fast as any in its group of neighbouring places.
//
// In given keys the best scale for such tunes is found by dynamic programming over pitches and
// places. With keys free, each tune gets a scale of its own and pays a price for what it takes from
// it (Lagrangian relaxation of "one scale for all"; any prices give a valid bound; they are
// improved in so many subgradient steps of Polyak's length; where tunes and teeth are so many that
// there would be more than ten million prices, `any_keys` is 1).
//
// The task's tunes stand at the slowest tempo that each may take; its intervals rise or fall along
// the scale, as those of tracks do. `keys`, by tune; `reached` is what some scale earns. Same
// result for any number of threads (0: one for each core). Throws Cancelled if stopped.
ScaleBounds scale_bounds(const ScaleTask& task, const std::vector<int>& keys, double reached,
                         int rounds, unsigned threads, const Watch& watch = {});

}  // namespace combwright::arrange
