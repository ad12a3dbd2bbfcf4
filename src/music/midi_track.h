// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>

#include "music/midi_bytes.h"
#include "music/midi_score.h"

namespace combwright::music {

// Adds the events of one track chunk to the score, its first tick being `start_tick`.
//
// A note-off ends the oldest note that still sounds on its key (same track, channel and pitch): a
// player who strikes a key again before its release is written ends the first stroke first. A
// note-on of velocity 0 is a note-off. Running status is kept over meta and system exclusive
// events, where the standard ends it, because real files rely on it.
// Sections begin where a marker stands (SMF 1.0: "such as a rehearsal letter or section name") and
// where the key signature of the track changes, and end with a lyric that ends a verse by a line
// feed (MIDI Association RP-017).
// Throws Error with the byte offset where the events can't be told apart any more.
void read_midi_track(MidiBytes chunk, std::int64_t start_tick, MidiScore& score);

}  // namespace combwright::music
