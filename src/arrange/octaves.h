// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/problem.h"

namespace combwright::arrange {

struct HeardNote {
  double onset_s = 0.0;
  bool melody = false;
  int midi = -1;  // that sounds; -1 if the note is left out
};

inline constexpr int no_melody = 1000;  // above any pitch

// For each note, in order of onset, the lowest pitch of the melody heard with it: that of the last
// onset with a melody note, at most melody_rings_s before; no_melody if there is none.
std::vector<int> melody_heard(const std::vector<HeardNote>& notes);

// Plays notes that sound an octave away on the best tooth of those free at their moment: below the
// melody rather than above it, then one octave away rather than two. What is earned stays as it is
// and all rules are kept.
void prefer_near_octaves(const Problem& problem, std::vector<Choice>& choices);

}  // namespace combwright::arrange
