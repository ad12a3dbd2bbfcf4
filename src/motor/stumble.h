// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "motor/load.h"
#include "motor/run.h"

// Whether the notes of a turn still come evenly.
namespace combwright::motor {

// A note that comes late after the one before it, or early.
struct Stumble {
  double release_rad = 0.0;  // disc travel from the start line at which its tooth is let go
  double before_rad = 0.0;   // that of the note before it
  double interval_s = 0.0;   // between the two in even turning
  double late_s = 0.0;       // by so much the interval is longer; negative if it is shorter
};

// One tone out of place in an even sequence is heard from 6 ms on, in intervals longer than 240 ms
// from 2.5 % of them: Friberg and Sundberg, JASA 98 (1995), from memory.
double heard_s(double interval_s);

// Of all notes after the first that comes furthest beyond what is heard, or nearest to it. Even
// turning takes `even_turn_s` for a turn. None if the turn (from 0) has fewer than two notes.
std::optional<Stumble> worst_stumble(const Machine& machine, int turn, double even_turn_s,
                                     const std::vector<PluckLoad>& plucks);

}  // namespace combwright::motor
