// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/finding.h"
#include "music/musicxml_score.h"

namespace combwright::music::musicxml {

// The bars in the order in which they are played, as indices into `bars`. Common practice, no
// source:
// - A repeat goes back to the last repeat-start sign, or else to the bar after the last repeat or
//   last group of endings, or else to the beginning.
// - Of a group of endings, each pass plays the ending with its number, and there are as many passes
//   as numbers, or one more where the only ending is left out the last time. Two endings side by
//   side imply the repeat sign between them; endings without any repeat sign mean nothing.
// - Da capo and dal segno are obeyed once, after the repeats before them; from then on repeats are
//   not taken, the last ending is played, and "to coda" and "fine" hold.
// A jump to a sign that doesn't exist is left out with a finding. Throws Error if more than
// max_bars bars would be played.
std::vector<std::size_t> unroll(const std::vector<WrittenBar>& bars, const std::string& name,
                                Findings& findings);

}  // namespace combwright::music::musicxml
