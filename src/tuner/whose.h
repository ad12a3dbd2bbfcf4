// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "steel/comb.h"

namespace combwright::tuner {

// Further from where a tooth's pitch may lie, a pitch is none of its own (that of ear/take.h).
inline constexpr double another_tooth_cents = 250.0;

// Which tooth of a comb a pitch can be of.
struct Whose {
  bool of_tooth = false;    // of the one that it is taken for
  std::vector<int> tracks;  // that it fits otherwise, the nearest first; at most three
};

// A pitch at 20 C against the tooth with this place: its range from as cut to in tune, or its last
// reading at 20 C if it has one. The comb's design holds at `temperature_c`.
Whose whose(const steel::CombDesign& design, double temperature_c, std::size_t tooth,
            std::optional<double> last_hz, double heard_hz);

}  // namespace combwright::tuner
