// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "base/finding.h"
#include "base/watch.h"
#include "box/box.h"
#include "box/shop.h"

// What the workshop's tolerances do to lift, loudness and timing: to first order, from closed
// forms, and on boxes drawn at random. A tolerance is taken for two standard deviations of a normal
// distribution.
namespace combwright::action {

enum class Deviation {
  axis_height,        // of each star wheel
  axle_play,          // of each star wheel, along the disc and across
  projection_height,  // of each projection
  comb_overlap,       // of each comb
  comb_level,         // of each comb
  eccentricity,       // of each disc, at whatever place of the turn
};
inline constexpr std::size_t deviations = 6;

// "height of the star wheel's axis", and so on.
std::string_view to_text(Deviation deviation);

// "wheel", "projection", "comb" or "disc": what has one of its own.
std::string_view owner_of(Deviation deviation);

double tolerance_m(const box::ActionTolerance& tolerance, Deviation deviation);

// One standard deviation each.
struct Spread {
  double lift_m = 0.0;
  double loudness_db = 0.0;  // 20 log of the lift
  double timing_s = 0.0;     // of the moment at which the tooth is let go
};

struct ToothSpread {
  std::size_t comb = 0;
  int track = 0;
  Spread all;
  std::array<Spread, deviations> parts;  // what each deviation alone makes of it, to first order
};

// How lift and the projection's way to letting go change with a deviation of the geometry: metres
// for a metre.
struct Sensitivity {
  double lift = 0.0;
  double way = 0.0;
};

// Of one tooth; of axle play the part along the disc, that across it being as axis_height. Closed
// forms, docs/action.md.
std::array<Sensitivity, deviations> sensitivities(const box::Box& box, std::size_t comb, int track);

// By those, every tooth in order of comb and track.
std::vector<ToothSpread> first_order(const box::Box& box, const box::ActionTolerance& tolerance,
                                     double turn_time_s);

// What one deviation does to the whole box: root mean squares over its teeth.
struct Contribution {
  Deviation deviation = Deviation::axis_height;
  Spread spread;
  double loudness_share = 0.0;  // of the variance of all
  double timing_share = 0.0;
  double weight = 0.0;  // the greater of both in units of what is heard: 1 dB, 10 ms
};

// The heaviest first: the one to hold tight.
std::vector<Contribution> ranked(const std::vector<ToothSpread>& teeth);

struct TrialOptions {
  std::size_t boxes = 10'000;
  std::uint64_t seed = 1;
  unsigned threads = 0;  // 0: one for each core; the result is the same for any number
};

struct TrialTooth {
  std::size_t comb = 0;
  int track = 0;
  double mean_lift_m = 0.0;
  double mean_timing_s = 0.0;  // from where it is meant to be let go
  Spread all;                  // of the teeth that were plucked
};

struct Trials {
  std::vector<TrialTooth> teeth;  // as in first_order
  double missed = 0.0;            // share of teeth that the point misses, or that are not let go
};

// Teeth that would not be plucked, if there are enough of them to worry.
Findings findings(const Trials& trials, const std::vector<Contribution>& ranked);

// Boxes drawn at random. Throws Cancelled if stopped.
Trials trials(const box::Box& box, const box::ActionTolerance& tolerance, double turn_time_s,
              const TrialOptions& options = {}, const Watch& watch = {});

}  // namespace combwright::action
