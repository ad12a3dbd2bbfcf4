// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"

// How a projection turns a star wheel, in the plane across the wheel's axis: docs/action.md has the
// drawing. The axis is the origin, x runs with the disc, y up. A point is two straight flanks and a
// rounded tip; a projection is a rectangle with rounded lower corners. Angles of a point are
// counted from upright, negative before it.
namespace combwright::box {

// Where two bodies touch: the place, and the direction in which the first one pushes the second.
struct Contact {
  double x_m = 0.0;
  double y_m = 0.0;
  double nx = 1.0;
  double ny = 0.0;
};

struct StarDrive {
  double centre_m = 0.0;    // axis to the middle of a tip's rounding
  double rounding_m = 0.0;  // radius of that
  double flank_rad = 0.0;   // of a point, from its middle line
  double depth_m = 0.0;     // axis up to the projection's lower edge
  double corner_m = 0.0;    // radius of the projection's lower corners
  double pitch_rad = 0.0;   // from point to point
  double leave_rad = 0.0;   // where the projection slips off the point that it drives
  double rest_rad = 0.0;    // where that point waits: one pitch before leave_rad

  double tip_m() const { return centre_m + rounding_m; }

  // From the axis to the line of a flank.
  double flank_m() const;

  // From the axis to where the flanks of neighbouring points meet.
  double root_m() const;

  // Where projection and driven point touch, and where the leading face of the projection then
  // stands. rest_rad <= angle_rad <= leave_rad; beyond them the nearer end is meant for the tip
  // alone.
  Contact contact(double angle_rad) const;
  double face_m(double angle_rad) const;

  // How fast the face moves with the angle, and how its place at that angle moves with depth_m.
  double face_per_rad(double angle_rad) const;
  double face_per_depth(double angle_rad) const;

  // The inverse of face_m, from rest_rad to leave_rad; the nearer end outside.
  double angle_rad(double face_m) const;

  // The longest projection that passes between the driven point and the one behind it.
  double longest_projection_m() const;
};

// The heights of a projection between which it turns the wheel by just one point.
double least_height_m(const StarWheel& wheel);
double two_point_height_m(const StarWheel& wheel);

// For a box whose projections reach the points and not the axis.
StarDrive star_drive(const Box& box);

}  // namespace combwright::box
