// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "music/midi_score.h"
#include "music/midi_timeline.h"
#include "music/tune.h"

namespace combwright::music {

// The bars from tick 0 up to `end_tick`, the last of them holding `last_onset_tick` too, numbered
// from 1. Time signatures are taken in order of time, from whatever track; one that differs from
// the one in force begins a bar, cutting the bar before it short if need be. Empty if there would
// be more than max_bars.
//
// A section ends where a sequence of a format 2 file ends, and where a time signature changes that
// has held for four bars.
//
// A first bar whose time signature holds for it alone, and that is shorter than the next, is a
// pickup and has the number 0: so notation programs write one.
std::vector<Bar> midi_bars(std::vector<MidiMeter> meters, const MidiTimeline& timeline,
                           std::int64_t last_onset_tick, std::int64_t end_tick);

// Sets section_end of the bars before the sections that begin, by the bar line nearest to each
// mark, and of those in which one ends.
void mark_sections(std::vector<MidiSection> sections, double ticks_per_quarter,
                   std::vector<Bar>& bars);

}  // namespace combwright::music
