// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/score.h"
#include "music/tune.h"

namespace combwright::arrange {

// Whole bars as played, from 1, both ends included.
struct BarRange {
  int first = 1;
  int last = 1;
};

// How clearly a phrase ends with each bar of the tune, 0..1: double bars and fermatas, a melody
// that pauses, fours and eights of bars, the bass at home. The last bar that has notes is 1.
// Judgement, no source.
std::vector<double> phrase_ends(const music::Tune& tune, const std::vector<ScoreNote>& score);

// Seconds from the first to the last onset within the bars, at the tempo of the file.
double onset_span_s(const std::vector<ScoreNote>& score, const BarRange& bars);

struct ExcerptChoice {
  BarRange bars;
  bool whole = false;  // nothing is left out
  bool at_phrase_end = false;
};

// The bars from the first note on that fill `room_s` best and end with a phrase, where the tempo
// may be raised up to `fastest`. The tune must have a note.
ExcerptChoice choose_excerpt(const music::Tune& tune, const std::vector<ScoreNote>& score,
                             double room_s, double fastest);

}  // namespace combwright::arrange
