// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "arrange/arrangement.h"
#include "arrange/excerpt.h"
#include "base/watch.h"
#include "box/box.h"
#include "music/tune.h"

namespace combwright::arrange {

struct Options {
  std::optional<BarRange> bars;            // default: chosen to fill the turn
  std::optional<int> transpose_semitones;  // default: the best of all
  std::optional<double> tempo_factor;      // default: the best the box allows
};

// Transpositions that are looked at, either way.
inline constexpr int transpose_reach_semitones = 24;

// The arrangement of the tune for the box that keeps most of its weight, with a proven bound on
// what any arrangement under the same rules could keep. Every transposition within the reach and
// every tempo that the box allows, in steps of 2 %, is either solved or ruled out by its bound
// or that of the slowest tempo.
// Throws Error if the options ask for what the tune or the box can't give, Cancelled if stopped.
Arrangement arrange(const box::Box& box, const music::Tune& tune, const Options& options = {},
                    const Watch& watch = {});

}  // namespace combwright::arrange
