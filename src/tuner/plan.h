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
  double filing_cents = 0.0;     // as far as filing its tip can raise it instead
  double risk = 0.0;             // chance of going sharp, in all
};

// With what chance the next cut may go sharp beyond the tolerance.
struct Step {
  double chance = 0.0;
  double cuts = 0.0;  // to expect with it
};

// The cuts that get within the tolerance soonest among those with which the chance of going sharp
// stays within the risk (dynamic programming over five cuts to come). A tooth whose tip has to be
// filed, since what is left is less than the smallest cut, counts as one filing. Nothing if it is
// better filed, or cannot be cut. docs/tuning.md has the formulas.
std::optional<Step> plan(const Course& course);

// Filing a tip into tune takes as long as this many clips, and as many more for each
// `filing_step_cents` (common practice, no source).
inline constexpr double filing_cuts = 1.5;
inline constexpr double filing_step_cents = 20.0;

// A tooth that cannot be brought into tune is worth this many cuts.
inline constexpr double stuck_cuts = 20.0;

}  // namespace combwright::tuner
