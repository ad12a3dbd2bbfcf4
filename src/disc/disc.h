// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/finding.h"

namespace combwright::disc {

// Where a hit of the punch goes. Angles run counter-clockwise from the start line (+X), seen from
// the side the punch strikes, 0 <= angle < one turn; radius and angle are those of the leading
// edge's middle.
struct Projection {
  int track = 0;  // from 1, innermost first
  int midi = 0;   // of the track's teeth
  double radius_m = 0.0;
  double angle_rad = 0.0;
  double time_s = 0.0;  // of the pluck, on the disc's clock
  int note = 0;         // index of the arranged note it plays, -1 if unknown
  int bar = 0;          // that note's, as played from 1; 0 if unknown
};

// By time, then track, then what else tells two projections apart: an order that does not depend on
// the one in which they are punched.
bool played_before(const Projection& a, const Projection& b);

// How good the order of hits is: the time spent moving between hits, and a lower bound on it for
// any order. Strokes come on top and are the same for every order.
struct Tour {
  double length_s = 0.0;
  double bound_s = 0.0;
};

// One disc, projections in the order in which they are punched.
struct Disc {
  std::string box_name;
  std::string title;
  std::vector<Projection> projections;
  double outer_radius_m = 0.0;
  double turn_time_s = 0.0;
  Tour tour;
  Findings findings;
};

}  // namespace combwright::disc
