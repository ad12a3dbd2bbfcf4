// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "arrange/scale_search.h"
#include "arrange/turn_part.h"
#include "base/finding.h"
#include "base/watch.h"
#include "box/box.h"

namespace combwright::arrange {

// In a repertoire; more would take too long.
inline constexpr std::size_t most_tunes_of_repertoire = 5'000;
inline constexpr std::size_t most_notes_of_repertoire = 2'000'000;  // of all tunes together

struct ScaleOptions {
  std::optional<int> teeth;         // one for each track; default: as many as the box has
  std::optional<int> lowest_midi;   // of any tooth; default: the lowest of the box's scale
  std::optional<int> highest_midi;  // default: its highest
};

// A tune to choose a scale for: its name, and what of it a turn holds (part_of_turn).
struct RepertoireTune {
  std::string name;
  TurnPart part;
};

struct ScaleTooth {
  int midi = 0;
  int track = 0;  // from 1
};

// All shares of a tune's weight, 0..1.
struct TuneCoverage {
  std::string name;
  double coverage = 0.0;        // with the chosen scale
  double coverage_now = 0.0;    // with the box's own
  double coverage_bound = 0.0;  // no scale of so many teeth, made for this tune alone, exceeds it
  int transpose_semitones = 0;
  int transpose_semitones_now = 0;
  double tempo_factor = 1.0;
  int notes = 0;
  BarRange bars;
};

// One tooth more, on top of the chosen ones and those before it in the list.
struct NextTooth {
  int midi = 0;
  int track = 0;
  double coverage = 0.0;  // with it
  double gain = 0.0;      // of coverage, over the one before
};

// Coverage is the mean over the tunes.
struct ScalePlan {
  std::string box_name;
  std::vector<ScaleTooth> scale;  // low to high
  std::vector<int> scale_now;     // the box's own, low to high
  double coverage = 0.0;
  double coverage_now = 0.0;
  double coverage_bound = 0.0;          // no scale of so many teeth in the range exceeds it
  double coverage_bound_in_keys = 0.0;  // nor this, with each tune in the transposition chosen
  std::vector<TuneCoverage> tunes;      // as given
  std::vector<NextTooth> next;
  Findings findings;
};

// The scale for the box that lets the tunes (at least one) keep most of their weight, and what it
// is worth beside the box's own and beside bounds. What a tune keeps is what the arranger's solver
// keeps at a first look, under all rules, at the tempo nearest to the written one.
// Throws Error if the options ask for what can't be, Cancelled if stopped. Same result for any
// number of threads (0: one for each core).
ScalePlan plan_scale(const box::Box& box, const std::vector<RepertoireTune>& tunes,
                     const ScaleOptions& options = {}, unsigned threads = 0,
                     const Watch& watch = {});

}  // namespace combwright::arrange
