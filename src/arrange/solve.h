// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "arrange/class_search.h"
#include "arrange/problem.h"
#include "base/watch.h"

namespace combwright::arrange {

// How much work goes into the limits that tie pitch classes together (plucks in a window, sheet
// between neighbouring tracks). Where none of them binds, the solution is the optimum anyway.
struct Effort {
  int price_rounds = 100;  // of the Lagrangian search; 0: first repair only, bound without them
  int exchange_attempts = 10000;  // each time that priced choices are repaired
  std::size_t crowd_nodes = 500;  // for each note, where crowds are chosen anew
  ClassEffort priced_classes{.price_rounds = 25, .states = 0};
  ClassEffort classes;  // without prices, and once more with the best prices
};

// The usual effort for a tune, less for each note where there are very many of them, so that time
// stays in proportion to them.
Effort effort_for(std::size_t notes);

// A first look, for a search over many problems.
inline constexpr Effort quick_effort{.price_rounds = 0,
                                     .exchange_attempts = 500,
                                     .crowd_nodes = 0,
                                     .classes = {.price_rounds = 15, .states = 0}};

// Choices that keep every rule of the problem, and a proven bound. Each pitch class is solved
// by dynamic programming, mostly to its optimum; the limits that tie the classes together are
// priced (Lagrangian relaxation: for any prices >= 0 the relaxed optimum bounds the true one) and
// the best priced solution is repaired.
//
// `note_prices`, by demand, are where the bounds of the pitch classes start (class_search.h) and
// then the best found: those of a problem much like this one save time. Throws Cancelled if
// stopped.
Solution solve(const Problem& problem, const Effort& effort, std::vector<double>& note_prices,
               const Watch& watch = {});
Solution solve(const Problem& problem, const Effort& effort);
Solution solve(const Problem& problem);  // with effort_for its notes

}  // namespace combwright::arrange
