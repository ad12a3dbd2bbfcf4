// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "ear/ring_fit.h"

namespace combwright::ear {

// What a ring of a pluck is.
enum class Kind {
  own,      // the tooth's first mode
  partial,  // a higher mode
  mains,    // hum of the mains or a harmonic of it
  older,    // something that rang before and goes on
  other,    // a neighbour struck along, the room, a knock
};

// No higher mode of a tooth lies nearer to its first than this ratio: a bare bar has 6.27 (Thomson,
// Theory of Vibration with Applications, appendix D), a lead at the tip widens it, and the
// strongest taper there is, the full wedge, takes it to 2.86 (Kirchhoff 1879).
inline constexpr double least_mode_ratio = 2.8;

// A ring of a fit, with what the beginning of its pluck tells of it.
struct FoundRing {
  Ring ring;
  RingSpread spread;
  double amplitude = 0.0;     // at the onset
  std::optional<bool> older;  // it rang before; nothing if that can't be told
};

struct Kinds {
  std::vector<Kind> of;
  std::optional<std::size_t> own;
  std::optional<std::size_t> rival;  // could as well be the own mode
};

// The own mode is the lowest plucked ring that has no stronger one beside it which can't be its
// higher mode; with `near_hz`, the ring that is both strong and near to that, of those that rang
// before if nothing was plucked there. `seconds` is the length of the stretch.
Kinds tell_kinds(const std::vector<FoundRing>& rings, double seconds,
                 std::optional<double> near_hz);

}  // namespace combwright::ear
