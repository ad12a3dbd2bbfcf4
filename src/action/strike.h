// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "box/box.h"
#include "box/star_drive.h"

// A point of a star wheel and the tooth that it plucks. Places are counted from the wheel's axis:
// s outwards to the comb, z the way the points move there (down or up). The tooth's struck face
// lies at z = -level and ends at s = tip radius - overlap; lifted by w, both move on by w, and the
// end draws back (box::draw_back_m). The tip is moved without turning it: a place within the
// overlap, so that the height is right to 1.5 overlap / length of itself, and just right where the
// tooth is let go.
namespace combwright::action {

// How far the tooth is lifted by a point, where they touch, and the way the point pushes there.
struct Touch {
  double lift_m = 0.0;
  double s_m = 0.0;
  double z_m = 0.0;
  double ns = 0.0;
  double nz = 1.0;
  bool at_end = false;  // on the end of the tooth, which draws back; else on its face
};

struct Strike {
  double tip_radius_m = 0.0;
  double rounding_m = 0.0;
  double flank_rad = 0.0;
  double overlap_m = 0.0;
  double length_m = 0.0;  // of the tooth; infinite without one
  double level_m = 0.0;
  // Angle of the driven point at which the striking point is level with the axis.
  double level_rad = 0.0;
  // Angles of the driven point from where the tooth is touched to where it is let go.
  double meet_rad = 0.0;
  double slip_rad = 0.0;
  double lift_m = 0.0;  // then

  // At an angle of the driven point; no lift before meet_rad and from slip_rad on.
  Touch touch(double angle_rad) const;

  // The same of the lift alone, and of how fast it grows with the angle.
  double lift_at_m(double angle_rad) const;

  // From the end of the tooth to the waiting point, at the nearest while the tooth rings as far as
  // it was lifted; negative if it strikes the point. The driven point waits at `rest_rad`.
  double air_to_waiting_m(double rest_rad) const;
};

// Place in the scale, from 0 at the lowest note, of a track.
int place_of(const box::Box& box, int track);

// The strike at the tooth of a comb by its place in the scale. Without any comb: at a tooth without
// end, level with the axis, plucked down.
Strike strike(const box::Box& box, const box::StarDrive& drive, std::size_t comb, int place);

}  // namespace combwright::action
