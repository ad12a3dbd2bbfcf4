// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "arrange/arrangement.h"
#include "arrange/excerpt.h"
#include "arrange/lock.h"
#include "base/watch.h"
#include "box/box.h"
#include "music/tune.h"

namespace combwright::arrange {

struct Options {
  std::optional<BarRange> bars;            // default: chosen to fill the turn
  std::optional<int> transpose_semitones;  // default: the best of all
  std::optional<double> tempo_factor;      // default: the best the box allows
  std::optional<int> melody_part;          // index into Tune::parts; default: roles() finds it
  std::vector<Lock> locks;
};

// Transpositions that are looked at, either way.
inline constexpr int transpose_reach_semitones = 24;

// The arrangement of the tune for the box that keeps most of its weight, with a proven bound on
// what any arrangement under the same rules could keep. Every transposition within the reach and
// every tempo that the box allows, in steps of 2 %, is either solved or ruled out by its bound
// or that of the slowest tempo.
// No arrangement under the same rules and locks exceeds the bound. Throws Error if the options ask
// for what the tune or the box can't give, or if no arrangement is found that keeps all locks (it
// names one that is not kept, and what is in its way), Cancelled if stopped.
Arrangement arrange(const box::Box& box, const music::Tune& tune, const Options& options = {},
                    const Watch& watch = {});

// The best tempo of every transposition within the reach, each solved by itself; the options'
// transposition is of no account. Fidelity is nothing where the locks can't be kept. Throws Error
// and Cancelled likewise.
std::vector<Trial> transpositions(const box::Box& box, const music::Tune& tune,
                                  const Options& options = {}, const Watch& watch = {});

}  // namespace combwright::arrange
