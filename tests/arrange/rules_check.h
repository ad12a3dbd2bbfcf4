// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "arrange/problem.h"

namespace combwright::arrange {

// The first rule that the choices break, in words; empty if they keep all. Written from the rules'
// text alone, pair by pair, without any code of the solver.
std::string broken_rule(const Problem& problem, const std::vector<Choice>& choices);

// What the choices earn by the rules' text.
double earned_by_rules(const Problem& problem, const std::vector<Choice>& choices);

// The greatest weight that any choices can earn, by trying all of them: every tooth of the note's
// class at the onset, and on its own pitch every moved time on a grid of `grid_s`. For a handful of
// notes only.
double best_by_trying_all(const Problem& problem, double grid_s);

}  // namespace combwright::arrange
