// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "music/temperament.h"

namespace combwright::music {

// No such file of ours is larger.
inline constexpr std::size_t max_scl_bytes = std::size_t{1} << 16;

// The twelve notes of a scale file: lines that begin with ! are comments, the first other line
// describes the scale, the second is the number of notes, then each stands on a line of its own in
// cents (with a point) or as a ratio ("3/2", "2"), what follows it being a comment; the first note
// is not written, the last is the octave. Throws Error with line and column unless there are
// twelve, rising up to an octave of 2/1.
Temperament read_scl(std::string_view text, const std::string& name);

}  // namespace combwright::music
