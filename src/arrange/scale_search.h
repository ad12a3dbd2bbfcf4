// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "arrange/scale_task.h"
#include "base/watch.h"

namespace combwright::arrange {

struct ScaleChoice {
  std::vector<int> midi;            // low to high, one for each place
  std::vector<int> transpositions;  // by tune: the one that earns most
  double worth = 0.0;               // by TuneWorth::of_all, mean over the tunes; less what the
                                    // distance from the written key costs
};

// How long to look at most, in notes looked at, so that the result does not depend on the machine.
// A repertoire of 200 tunes takes a tenth of it.
inline constexpr std::uint64_t usual_notes_looked_at = 40'000'000'000;

// The teeth by pitch of a scale of so many notes as interval_s has.
TeethByPitch teeth_by_pitch(const std::vector<int>& midi, const std::vector<double>& interval_s);

// The best scale found by exchanging teeth one for one as long as that earns more, each tune in the
// best of the few transpositions that suit it best, which are ranked anew when no exchange helps
// any more (local search). It begins from several scales: `present`, one that grew from nothing in
// the tunes' best keys on `present`, and two (22 where the tunes have few notes) that grew in keys
// that bring the tunes near to each other, seeded.
// `present` has as many notes as interval_s. Same result for any number of threads (0: one for each
// core). Throws Cancelled if stopped, as all of these.
ScaleChoice choose_scale(const ScaleTask& task, const std::vector<int>& present, unsigned threads,
                         std::uint64_t most_notes_looked_at = usual_notes_looked_at,
                         const Watch& watch = {});

// What the scale is worth, and the tunes' best transpositions. `midi` has as many notes as
// interval_s.
ScaleChoice worth_of_scale(const ScaleTask& task, const std::vector<int>& midi, unsigned threads,
                           const Watch& watch = {});

// Lets a scale grow by one tooth at a time, each time the one that earns most. interval_s has a
// place for all of them. Element k has k + 1 teeth more than `midi`.
std::vector<ScaleChoice> grow_scale(const ScaleTask& task, const std::vector<int>& midi,
                                    const Watch& watch = {});

}  // namespace combwright::arrange
