// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::arrange {

// What a note earns of its weight by its fate, and how far it may be moved.
inline constexpr double kept_share = 1.0;
inline constexpr double moved_share = 0.9;
inline constexpr double octave_share = 0.6;
inline constexpr double octave_share_melody = 0.3;
inline constexpr double move_limit_s = 0.030;
inline constexpr int octave_reach_semitones = 24;

// Limits met to within this are met: the rounding of doubles, far below what a disc can hold.
inline constexpr double same_time_s = 1e-9;

// Written notes this close start together.
inline constexpr double same_onset_s = 1e-6;

}  // namespace combwright::arrange
