// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "ear/beginning.h"
#include "ear/own_mode.h"
#include "ear/ring_fit.h"
#include "ear/stretch.h"

namespace combwright::ear {

// A stretch of a recording in which one pluck may be: sample numbers of the whole recording.
struct Place {
  std::size_t earliest = 0;  // nothing else begins from here to `around`
  std::size_t around = 0;    // where something begins, give or take onset_error_s
  std::size_t free = 0;      // from here on nothing is clipped
  std::size_t end = 0;       // the next thing begins
};

// Everything that rings after one beginning.
struct PluckFit {
  Beginning beginning;
  std::size_t from = 0;  // the stretch's first sample
  Stretch stretch;
  RingFit fit;
  std::vector<FoundRing> rings;  // those of the fit
  Kinds kinds;
};

// Shorter than this nothing can be told apart.
inline constexpr double shortest_look_s = 0.04;

// Whether a place is long enough to be looked at.
bool long_enough(const Place& place, double rate_hz);

// What rings in the first second at the place, if that is long enough.
PluckFit first_look(std::span<const double> samples, double rate_hz, const Place& place,
                    std::optional<double> near_hz);

// The same by all that the place holds, from where its click is over to its end.
PluckFit whole_fit(std::span<const double> samples, double rate_hz, const Place& place,
                   const PluckFit& look, std::optional<double> near_hz);

}  // namespace combwright::ear
