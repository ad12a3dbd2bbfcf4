// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"

namespace combwright::arrange {

// A track as the solver sees it.
struct Tooth {
  int midi = 0;
  double interval_s = 0.0;  // least time between two plucks
};

// Two plucks on tracks k and k + 1 leave too little sheet between them if the later track's pluck
// comes within (shift_s - reach_s, shift_s + reach_s) after the earlier track's.
struct NeighbourLimit {
  double shift_s = 0.0;
  double reach_s = 0.0;
};

// What a demand is held to, where somebody has fixed it.
enum class Hold { none, kept, octave };

// A note to be played, on the disc's clock and in the pitch of the comb.
struct Demand {
  double onset_s = 0.0;
  int midi = 0;
  double weight = 0.0;
  bool melody = false;
  Hold hold = Hold::none;
};

// All that decides an arrangement at one transposition and tempo. Demands are sorted by onset.
struct Problem {
  std::vector<Tooth> teeth;                // by track
  std::vector<NeighbourLimit> neighbours;  // between track k and k + 1; empty: never binding
  std::vector<Demand> demands;
  int most_plucks = 0;  // within any pluck_window_s
  double pluck_window_s = 0.0;
  double earliest_s = 0.0;  // of any pluck
  double latest_s = 0.0;
};

// What the solver decided for one demand.
struct Choice {
  Fate fate = Fate::dropped;
  int tooth = -1;  // index into Problem::teeth
  double time_s = 0.0;
};

struct Solution {
  std::vector<Choice> choices;  // by demand
  double earned = 0.0;          // weight
  double bound = 0.0;           // no choices under the problem's rules earn more
};

// The part of the problem that does not depend on the tune: teeth and limits of a box whose disc
// turns once in turn_time_s, and the span of time in which plucks may lie.
Problem problem_of(const box::Box& box, double turn_time_s);

// What a demand earns on a tooth if it is plucked at the demand's onset: weight * 1 at its own
// pitch, * 0.6 (melody 0.3) one or two octaves away, 0 on any other and where it is held to
// something else.
double earned_at_onset(const Demand& demand, int tooth_midi);

// The same on a tooth of its own pitch, moved.
double earned_moved(const Demand& demand);

// True one or two octaves away: what an octave may stand in for.
bool is_octave(const Demand& demand, int tooth_midi);

// What demand i earns by a choice.
double earned_by(const Problem& problem, std::size_t i, const Choice& choice);

}  // namespace combwright::arrange
