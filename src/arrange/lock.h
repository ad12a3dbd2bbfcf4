// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arrange/arrangement.h"
#include "arrange/excerpt.h"
#include "arrange/score.h"
#include "base/finding.h"

namespace combwright::arrange {

// A note's fate as somebody wants it, whatever the search would choose. The note is known by its
// bar as played, its beat and its pitch as written.
struct Lock {
  int bar = 1;
  double beat = 1.0;
  int midi = 60;
  Fate fate = Fate::dropped;  // kept, octave or dropped
};

// "C4 in bar 2, beat 3.5".
std::string name_of(const ScoreNote& note);

// Beats nearer than this are one.
inline constexpr double same_beat = 2e-3;

// Puts the locks on the notes of the bars. A lock of a note outside of them is passed over with a
// note that says so. Throws Error for one of a note that is not there, and for two that contradict
// each other.
Findings put_locks(const std::vector<Lock>& locks, const BarRange& bars,
                   std::vector<ScoreNote>& notes);

}  // namespace combwright::arrange
