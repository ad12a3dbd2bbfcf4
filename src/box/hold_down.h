// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"

namespace combwright::box {

// Radii of the ring of the disc that the holes of a track can take up, in metres.
struct HoleRing {
  double inner_m = 0.0;
  double outer_m = 0.0;
};

// Of the track at that radius: a straight projection begins square to the radius and trails from
// there by its whole length, so that its far outer corner lies at hypot(radius + width / 2,
// length).
HoleRing hole_ring(const Box& box, double track_radius_m);

// True if a hold-down roller of the box at that radius runs over holes in the ring; one that only
// touches it, to a nanometre, does not.
bool runs_over(const Box& box, double roller_radius_m, const HoleRing& ring);

// The widest roller, in whole tenths of a millimetre and at most 3 mm, that runs between the two
// middle tracks; 3 mm if there is one track or no room for 0.2 mm.
double default_roller_width_m(const Box& box);

// Where rollers of the box's width run on plain sheet, innermost first: one inside the tracks, two
// pitches from the innermost or as near as it can be to that; one halfway between the holes of the
// two middle tracks (those outside the middle one of an odd number); one at the edge. None runs
// over drive holes. Those that fit nowhere are left out.
std::vector<double> default_roller_radii_m(const Box& box);

}  // namespace combwright::box
