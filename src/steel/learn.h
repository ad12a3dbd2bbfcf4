// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/finding.h"
#include "box/box.h"
#include "steel/comb.h"

// What a comb's measured pitches tell of its steel, its root and its weights.
namespace combwright::steel {

// A tooth's pitch as first cut, before any tuning.
struct PitchReading {
  std::size_t comb = 0;  // place among the box's combs
  std::size_t tooth = 0;
  double frequency_hz = 0.0;
  double stderr_hz = 0.0;  // 0 if it is not known
};

// One thing that is learnt: a share (root yield) or a value in SI units.
struct Learnt {
  std::string key;       // of the box file
  std::size_t comb = 0;  // whose; of a key that all combs share 0
  double before = 0.0;   // what the box says, and how well it is known: one standard deviation
  double before_spread = 0.0;
  double value = 0.0;  // the same with the readings
  double spread = 0.0;
};

struct LearntTooth {
  PitchReading reading;
  double expected_hz = 0.0;  // as the box has it
  double off_cents = 0.0;    // of the reading from that
  double left_cents = 0.0;   // of the reading from the fit
  double weight = 1.0;       // less than 1 for a tooth that is far off the others
};

// How far the as-cut pitch of a comb's teeth is from what was computed, one standard deviation in
// cents: what is common to its teeth, and with it what is each tooth's own; of the least well known
// tooth.
struct CutSpread {
  double common_cents = 0.0;
  double all_cents = 0.0;

  // Half the width of the range that holds 95 % of such teeth.
  double within_95_cents() const { return 1.96 * all_cents; }
};

struct Lesson {
  std::vector<Learnt> learnt;  // root yield of each comb, modulus, density of the weights
  std::vector<std::vector<double>> correlation;  // between those
  std::vector<LearntTooth> teeth;                // in the order of the readings
  double scatter_cents = 0.0;            // of one tooth from the others, one standard deviation
  std::vector<CutSpread> before, after;  // of each comb
  Findings findings;
};

// How far one tooth strays from its comb, if nothing else is known: a few micrometres of its
// thickness (common practice, no source). Counts as much as four readings.
inline constexpr double usual_scatter_cents = 5.0;

// The likeliest root yields, modulus and density of the weights by the readings (at least one) and
// by what the box says of them with its spreads (Gauss-Newton for the greatest posterior density;
// Huber's weights, so that a tooth that was cut wrong does not spoil the rest). The combs must have
// been cut as designed: `designs` are those of the box. Covariance is that of the linearised
// problem, (J'WJ / s^2 + P^-1)^-1.
Lesson learn(const box::Box& box, const std::vector<CombDesign>& designs,
             const std::vector<PitchReading>& readings);

// How well the as-cut pitch of each comb is known by the spreads that the box gives.
std::vector<CutSpread> cut_spread(const box::Box& box, const std::vector<CombDesign>& designs);

// A warning for each comb whose teeth are aimed less flat than their pitch may be off (95 %), so
// that some may come off the saw sharp. `spreads` has one for each comb of the box.
Findings margin_findings(const box::Box& box, const std::vector<CutSpread>& spreads);

}  // namespace combwright::steel
