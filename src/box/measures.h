// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

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

// How far a tooth's tip is lifted when it is let go: the tooth lies level with the star wheel's
// axis, and the point slips off once its tip has drawn back by the overlap.
inline double lift_m(const Box& box) {
  const double overlap = box.star_wheel.tooth_overlap_m;
  return std::sqrt(overlap * (2.0 * box.star_wheel.tip_radius_m - overlap));
}

// The disc travel between two plucks of one track can't be less than from point to point, nor than
// from one projection to the next.
inline double least_arc_m(const Box& box) {
  return std::max(2.0 * pi * box.star_wheel.tip_radius_m / box.star_wheel.points,
                  box.projection.length_m + box.projection.web_m);
}

// The longest projection that passes between two points of its star wheel, from plane geometry with
// points as thin as lines; real ones need room for their thickness besides.
//
// The axis is the origin, the projection's lower edge runs at d = axis_below_disc - height over it,
// p is the angle from point to point. A point at the angle t from upright crosses the edge's level
// at d tan t. The driven point is pushed there by the leading edge, so the leading edge stands at
// d tan t and the following point crosses the level at d tan(t - p). Its tip stands above that
// level once t > p - acos(d / r), and the whole projection must then lie between the two:
//   length < d (tan t + tan(p - t)),
// which is least at t = p / 2, where both points lean alike: 2 d tan(p / 2).
inline double longest_projection_m(const Box& box) {
  const double depth = box.star_wheel.axis_below_disc_m - box.projection.height_m;
  return 2.0 * depth * std::tan(pi / box.star_wheel.points);
}

// The height from which a projection finds two points of its star wheel in its way at once, and so
// turns it by two: the wheel rests with the point that was let go at the lower edge's level, and
// the one two pitches behind it stands just as high where the edge lies r cos(p) over the axis.
inline double two_point_height_m(const Box& box) {
  const StarWheel& wheel = box.star_wheel;
  return wheel.axis_below_disc_m - wheel.tip_radius_m * std::cos(2.0 * pi / wheel.points);
}

}  // namespace combwright::box
