// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "base/angle.h"
#include "base/quantity.h"
#include "box/box.h"

// What the checks of a box measure on it.
namespace combwright::box {

inline constexpr double pi = std::numbers::pi;

// Lengths that differ by less are the same: the last place a maker writes is a hundredth of a
// millimetre.
inline constexpr double same_length_m = 1e-6;

inline std::string mm(double length_m) {
  return to_text(length_m, Dimension::length);
}

// Of a track, numbered from 1; beyond the box's own, where it would lie.
inline double track_radius_m(const Box& box, int track) {
  return box.tracks.inner_radius_m + (track - 1) * box.tracks.pitch_m;
}

inline double outer_radius_m(const Box& box) {
  return track_radius_m(box, box.tracks.count);
}

// The track, from 1, of a place in the scale, from 0 at the lowest note.
inline int track_of_place(const Box& box, int place) {
  return box.tracks.bass == BassSide::inner ? place + 1 : box.tracks.count - place;
}

// From the line of the star wheels' axes to the back of a comb's plate.
inline double comb_reach_m(const Box& box, const Comb& comb) {
  return box.star_wheel.tip_radius_m - box.star_wheel.tooth_overlap_m + comb.longest_tooth_m +
         comb.bar_depth_m;
}

// Free length of the tooth at a place in the scale, by the comb's root line: of comb.lines, else
// drawn straight. See steel::CombCurves::bend.
double tooth_length_m(const Box& box, const Comb& comb, int place);

// How far the tip of a tooth of that length draws back when it is lifted: the shortening of a
// uniform cantilever pulled at its end, the integral of half the square of its slope,
// 0.6 lift^2 / length. None of a tooth without end (length_m infinite).
double draw_back_m(double length_m, double lift_m);

// How far a point of that tip radius lifts a tooth, from the face that it strikes at rest to where
// it slips off. The struck face lies `level_m` before the axis' level, against the point's way. It
// slips off at the angle a past the level at which the overlap is used up:
//   r (1 - cos a) + draw_back_m(length, lift) = overlap,  lift = r sin a + level.
// 0 where the point never reaches the tooth.
double lift_m(double tip_radius_m, double overlap_m, double length_m, double level_m);

// The angle a of that.
double slip_rad(double tip_radius_m, double overlap_m, double length_m, double level_m);

// The same for a tooth of the box by its place in the scale.
double lift_m(const Box& box, const Comb& comb, int place);

// The disc travel between two plucks of one track can't be less than from point to point, nor than
// from one projection to the next.
inline double least_arc_m(const Box& box) {
  return std::max(two_pi * box.star_wheel.tip_radius_m / box.star_wheel.points,
                  box.projection.length_m + box.projection.web_m);
}

}  // namespace combwright::box
