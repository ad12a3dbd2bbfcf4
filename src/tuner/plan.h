// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

// How much of a flat tooth's way to its pitch to take at once.
namespace combwright::tuner {

// A cut that is told as so many cents raises the pitch by exp(z) times that, z normal. Part of z's
// spread is common to all cuts that are still to come, so that each one tells of the next.
struct Course {
  double flat_cents = 0.0;       // of the tooth now, more than the tolerance
  double tolerance_cents = 0.0;  // to both sides
  double log_common = 0.0;       // one standard deviation of the common part
  double log_scatter = 0.0;      // of each cut's own
  double least_cents = 0.0;      // worth of the smallest cut
  double risk = 0.0;             // chance of going sharp, in all
};

// With what chance the next cut may go sharp beyond the tolerance.
struct Step {
  double chance = 0.0;
  double cuts = 0.0;  // to expect with it
};

// The cuts that get within the tolerance soonest, counting a tooth that has to be filed at its tip,
// since what is left is less than the smallest cut, as `filing_cuts` more, among those with which
// the chance of going sharp stays within the risk (dynamic programming over five cuts to come).
// Nothing if even the smallest cut is too much. docs/tuning.md has the formulas.
std::optional<Step> plan(const Course& course);

// Filing a tip into tune takes as long as this many clips (common practice, no source).
inline constexpr double filing_cuts = 1.5;

}  // namespace combwright::tuner
