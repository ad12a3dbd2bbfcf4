// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

namespace combwright::arrange {

// What a note earns of its weight by its fate, and how far it may be moved.
inline constexpr double kept_share = 1.0;
inline constexpr double moved_share = 0.9;
inline constexpr double octave_share = 0.6;
inline constexpr double octave_share_melody = 0.3;
inline constexpr double move_limit_s = 0.030;

// Where the pitches that may stand in for a note lie, in semitones: one or two octaves away.
inline constexpr int octave_reach_semitones = 24;
inline constexpr std::array<int, 4> octave_steps = {12, -12, 24, -24};

constexpr bool is_octave_step(int semitones) {
  return semitones != 0 && semitones % 12 == 0 && semitones <= octave_reach_semitones &&
         semitones >= -octave_reach_semitones;
}

// What a note played an octave away earns of its weight.
constexpr double octave_share_of(bool melody) {
  return melody ? octave_share_melody : octave_share;
}

// Limits met to within this are met: the rounding of doubles, far below what a disc can hold.
inline constexpr double same_time_s = 1e-9;

// What is put just outside a limit keeps this much more from it, so that it passes the check that
// uses the same limit.
inline constexpr double clearance_s = 2.0 * same_time_s;

// Written notes this close start together.
inline constexpr double same_onset_s = 1e-6;

// A melody note is heard until the next one, but no longer than this. Judgement, no source.
inline constexpr double melody_rings_s = 4.0;

// What the search gives up in fidelity to stay near the tune as written: for each semitone of
// transposition, and for each per cent of tempo. Judgement, no source.
inline constexpr double worth_of_semitone = 0.0003;
inline constexpr double worth_of_tempo_percent = 0.002;

}  // namespace combwright::arrange
