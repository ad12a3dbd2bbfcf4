// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "box/shop.h"

namespace combwright::disc {

// A place the punch must visit: radius and table angle.
struct TourStop {
  double radius_m = 0.0;
  double angle_rad = 0.0;
};

struct TourOptions {
  std::uint64_t seed = 1;  // of the named random stream "tour"
  // The search stops after this many improvement attempts for each stop, so that the result does
  // not depend on how fast the machine is.
  int effort = 400;
};

struct TourResult {
  // Indices into the stops; the first is the one nearest to the start line.
  std::vector<std::size_t> order;
  double length_s = 0.0;  // closed: the way back from the last stop to the first counts
  // No closed tour is shorter: 1-tree bound (Held & Karp 1970, 1971); over 25,000 stops the plain
  // bound by the two nearest stops of each.
  double bound_s = 0.0;
};

// Time of one move: the slower of the two axes, each from rest to rest with its own speed and
// acceleration; the table takes the shorter way round.
double move_time_s(const box::Punch& punch, const TourStop& from, const TourStop& to);

// A short closed tour through all stops, the best for fewer than five. Deterministic for given
// stops, punch and options. Memory grows with the number of stops, time with its square (the
// bound). Radii and angles must be finite, the punch's speeds and accelerations above 0.
TourResult punch_tour(const box::Punch& punch, const std::vector<TourStop>& stops,
                      const TourOptions& options = {});

}  // namespace combwright::disc
