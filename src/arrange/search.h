// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/arrangement.h"
#include "arrange/problem.h"
#include "arrange/score.h"
#include "base/watch.h"

namespace combwright::arrange {

// What the search may choose from.
struct SearchSpace {
  std::vector<int> transpositions;
  std::vector<double> tempo_factors;  // slowest first
};

struct SearchResult {
  int transpose_semitones = 0;
  double tempo_factor = 1.0;
  Problem problem;  // the one solved, with its demands
  Solution solution;
  std::vector<Trial> trials;  // by transposition, then tempo
  bool locks_kept = true;
  bool stopped = false;  // before all that might have been better were looked at
};

// The problem of playing the notes, the first one at the earliest moment that the box allows. A
// note that is locked out is worth nothing; one that is locked in is worth more than all others
// together, so that it is played wherever that can be.
Problem with_demands(Problem limits, const std::vector<ScoreNote>& notes, int transpose_semitones,
                     double tempo_factor);

// The best transposition and tempo, best first by bounds: a candidate is solved only while what it
// could reach is better than the best solution so far, and while fewer than some 400,000 notes were
// solved in all. `limits` is problem_of(box); the notes are those of the excerpt, at least one.
// Throws Cancelled if stopped.
SearchResult search(const Problem& limits, const std::vector<ScoreNote>& notes,
                    const SearchSpace& space, const Watch& watch = {});

}  // namespace combwright::arrange
