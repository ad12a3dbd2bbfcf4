// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "music/musicxml_score.h"
#include "music/tune.h"

namespace combwright::music::musicxml {

// Tempo where the score gives none, in quarter notes a minute (the default of Standard MIDI Files
// 1.0).
inline constexpr double default_tempo = 120.0;

// Grace notes are played before their main note, 60 ms each, but together within half of the main
// note's duration and half of the gap since the voice's last note; at the very start of the tune,
// where there is no time before it, they begin on the beat and the main note is late. Notes of an
// arpeggio follow each other by 35 ms from the beat on, together within a quarter of the shortest.
// Common practice, no source.
inline constexpr double grace_step_s = 0.060;
inline constexpr double arpeggio_step_s = 0.035;

// The score as played: bars in order, seconds from the tempos, tied notes joined. Throws Error if
// that is more than max_notes notes or tempos, or max_bars bars.
Tune play(const Score& score, const std::string& name);

}  // namespace combwright::music::musicxml
