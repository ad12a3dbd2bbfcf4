// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "arrange/pitch_class.h"

namespace combwright::arrange {

struct ClassSolution {
  std::vector<Choice> choices;  // by note, with teeth as in Problem
  double earned = 0.0;
  double bound = 0.0;  // equal to earned, but for rounding, unless the search had to cut states
};

// How many states the search may hold at once: first for a quick answer, then to prove it, which is
// left out where the completion bound already comes as close as `tolerance` (in weight) for each
// note.
struct ClassEffort {
  std::size_t quick_states = 8;
  int price_rounds = 1000;
  std::size_t states = 200;  // 0: the quick answer and its bound will do
  double tolerance = 1e-9;
};

// The choices that earn most on the class's teeth, by dynamic programming over the notes in order
// of onset. The state is when each tooth is free again. A state is dropped if another can do all
// that it can for at least as much, or if its completion bound does not reach what is already
// found; where more than the allowed number remain, the least promising are cut and the bound says
// what they might still have earned. The order of plucks on a tooth is that of the onsets, which
// loses nothing as long as a tooth's interval is twice the move limit or more; where it is less,
// the bound leaves the intervals out. The bound holds to within 1e-9 of weight for each stretch of
// notes that compete.
// `note_prices`, by note, are where the completion bound's prices start, and then the best found;
// infinity stands for the most that the note can earn.
ClassSolution solve_class(const PitchClass& pitch_class, const ClassEffort& effort,
                          std::vector<double>& note_prices);
ClassSolution solve_class(const PitchClass& pitch_class, const ClassEffort& effort = {});

}  // namespace combwright::arrange
