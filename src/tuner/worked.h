// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "steel/comb.h"
#include "steel/tooth.h"
#include "tuner/reading.h"

// A designed tooth after clipping and filing.
namespace combwright::tuner {

enum class Work { clip, file_tip, file_root };

inline constexpr std::array works{Work::clip, Work::file_tip, Work::file_root};

// Filing next to the root, and at the tip of a tooth with a weight, takes this share of the length.
inline constexpr double filed_share = 0.1;

// The stretch of a tooth that is filed.
struct Stretch {
  double from_m = 0.0;
  double to_m = 0.0;
};

// At the tip of a tooth without a weight it is the whole tooth, thinner in a straight line from an
// untouched root, as the comb was designed to be tuned; see docs/comb.md.
Stretch stretch(const steel::CombTooth& tooth, Work work);

// Where the next `amount_m` comes off after that was taken off: of a weight at the tip end of what
// is left of it, of the steel the stretch that is filed.
Stretch next_cut(const steel::CombTooth& tooth, const TakenOff& off, Work work, double amount_m);

double& part(TakenOff& off, Work work);
double part(const TakenOff& off, Work work);

// How much of each can be taken off at all: the weight but for steel::lead_step_m, half of the
// thickness; 0 of a weight that is not there.
double most(const steel::CombTooth& tooth, Work work);

// The tooth with its weight heavier by the factor exp(log_weight), and this taken off in all; more
// than `most` counts as that. Less than nothing is steel or weight put on.
steel::Tooth worked(const steel::CombTooth& tooth, const TakenOff& off, double log_weight = 0.0);

// Its pitch above the target, for the steel of the design.
double pitch_cents(const steel::CombTooth& tooth, const TakenOff& off, double log_weight = 0.0);

// Steel or weight that goes with the next `amount_m`.
double mass_kg(const steel::CombTooth& tooth, const TakenOff& off, Work work, double amount_m,
               double log_weight = 0.0);

}  // namespace combwright::tuner
