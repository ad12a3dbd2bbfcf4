// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
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
  std::string box;  // how the checksum of the comb's box file begins; empty if it is not known
};

enum class Unknown { root_yield, modulus, density };

// The key of the box file that holds it: "comb.root_yield", "steel.modulus", "lead.density". How
// well it is known stands in the key of that name with "_spread".
std::string_view key_of(Unknown unknown);

// One unknown by the box and with the readings: a share (root yield) or a value in SI units. The
// spreads, one standard deviation, are what their keys take: of a root yield in the same, of the
// others a share of the value.
struct LearntValue {
  Unknown unknown = Unknown::root_yield;
  std::optional<std::size_t> comb;  // nothing if all combs share it
  double before = 0.0;
  double before_spread = 0.0;
  double value = 0.0;
  double spread = 0.0;

  // The spreads as the values are.
  double before_deviation() const { return before_spread * (comb ? 1.0 : before); }
  double deviation() const { return spread * (comb ? 1.0 : value); }
};

struct LearntTooth {
  PitchReading reading;
  double expected_hz = 0.0;  // as the box has it
  double off_cents = 0.0;    // of the reading from that
  double left_cents = 0.0;   // of the reading from the fit
  double weight = 1.0;       // less than 1 for a tooth that is far off the others
};

struct Lesson {
  std::vector<LearntValue> learnt;  // root yield of each comb, modulus, density of the weights
  std::vector<std::vector<double>> correlation;  // between those
  std::vector<LearntTooth> teeth;                // in the order of the readings
  double scatter_cents = 0.0;  // of one tooth from the others, one standard deviation
  Findings findings;
};

// The likeliest root yields, modulus and density of the weights by the readings (at least one) and
// by what the box says of them with its spreads, and how far one tooth strays from the others
// (Gauss-Newton; Huber's proposal 2, so that a tooth that was cut wrong spoils nothing). The combs
// must have been cut as designed: `designs` are those of the box. docs/comb.md has the formulas.
Lesson learn(const box::Box& box, const std::vector<CombDesign>& designs,
             const std::vector<PitchReading>& readings);

// The box with what was learnt, of which the next comb is to be designed.
box::Box taught(box::Box box, const Lesson& lesson);

}  // namespace combwright::steel
