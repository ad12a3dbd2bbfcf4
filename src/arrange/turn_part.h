// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/arrange.h"
#include "arrange/excerpt.h"
#include "arrange/problem.h"
#include "arrange/score.h"
#include "arrange/search.h"
#include "box/box.h"
#include "music/tune.h"

namespace combwright::arrange {

// What of a tune one turn of the disc holds, and from what its arrangement may be chosen.
struct TurnPart {
  ExcerptChoice excerpt;
  std::vector<ScoreNote> notes;  // at least one
  SearchSpace space;
};

// The bars asked for, or those that fill a turn best, with the transpositions and tempos that the
// box allows. `limits` is problem_of(box); which notes the comb has does not matter.
// Throws Error if the options ask for what the tune or the box can't give.
TurnPart part_of_turn(const box::Box& box, const Problem& limits, const music::Tune& tune,
                      const Options& options);

}  // namespace combwright::arrange
