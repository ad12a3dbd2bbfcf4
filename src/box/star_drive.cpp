// SPDX-License-Identifier: Apache-2.0
#include "box/star_drive.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"

namespace combwright::box {
namespace {

double pitch_of(const StarWheel& wheel) {
  return two_pi / wheel.points;
}

// The height of a projection that slips off a point at this angle.
double height_m(const StarWheel& wheel, double leave_rad) {
  return wheel.axis_below_disc_m - wheel.tip_rounding_m -
         (wheel.tip_radius_m - wheel.tip_rounding_m) * std::cos(leave_rad);
}

}  // namespace

double StarDrive::flank_m() const {
  return centre_m * std::sin(flank_rad) + rounding_m;
}

double StarDrive::root_m() const {
  return flank_m() / std::sin(0.5 * pitch_rad + flank_rad);
}

Contact StarDrive::contact(double angle) const {
  const double tip_x = centre_m * std::sin(angle);
  const double tip_y = centre_m * std::cos(angle);
  const double corner_y = depth_m + corner_m;
  const double lean = angle + flank_rad;
  if (lean < 0.0) {
    // The flank leans towards the face: the face meets the tip.
    if (tip_y >= corner_y) return {tip_x - rounding_m, tip_y, 1.0, 0.0};
  } else {
    const double s = std::sin(lean);
    const double c = std::cos(lean);
    const double corner_x = (corner_y * s - flank_m() - corner_m) / c;
    const bool below_tip = corner_x * s + corner_y * c <= centre_m * std::cos(flank_rad);
    const double reach = rounding_m + corner_m;
    if (below_tip || !(reach > 0.0))
      return {corner_x + corner_m * c, corner_y - corner_m * s, c, -s};
  }
  const double reach = rounding_m + corner_m;
  if (!(reach > 0.0)) return {tip_x, tip_y, 1.0, 0.0};
  const double up = std::clamp((corner_y - tip_y) / reach, -1.0, 1.0);
  const double along = std::sqrt(1.0 - up * up);
  return {tip_x - rounding_m * along, tip_y + rounding_m * up, along, -up};
}

double StarDrive::face_m(double angle) const {
  const Contact at = contact(angle);
  // The middle of the corner lies behind the contact, and the face before that.
  return at.x_m - corner_m * at.nx + corner_m;
}

double StarDrive::face_per_rad(double angle) const {
  const Contact at = contact(angle);
  return (at.y_m * at.nx - at.x_m * at.ny) / at.nx;
}

double StarDrive::face_per_depth(double angle) const {
  const Contact at = contact(angle);
  return -at.ny / at.nx;
}

double StarDrive::angle_rad(double face) const {
  double low = rest_rad;
  double high = leave_rad;
  if (!(face > face_m(low))) return low;
  if (!(face < face_m(high))) return high;
  // Halving: the face's speed jumps where it leaves the tip for the flank, and has no bound where
  // it slips off a rounded tip.
  constexpr int steps = 60;
  for (int i = 0; i < steps; ++i) {
    const double middle = 0.5 * (low + high);
    (face_m(middle) < face ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double StarDrive::longest_projection_m() const {
  // Seen from the other end the point behind stands as the driven one does, mirrored, at pitch -
  // angle. It is in the way while its tip stands above the projection's lower edge.
  const auto room = [this](double angle) { return face_m(angle) + face_m(pitch_rad - angle); };
  const double from = 0.5 * pitch_rad;
  const double to = std::max(from, leave_rad);
  constexpr int steps = 256;
  double least = room(from);
  double best = from;
  for (int i = 1; i <= steps; ++i) {
    const double angle = std::lerp(from, to, static_cast<double>(i) / steps);
    if (const double found = room(angle); found < least) {
      least = found;
      best = angle;
    }
  }
  // Golden section between the neighbours of the best.
  constexpr double golden = 0.6180339887498949;
  double low = std::max(from, best - (to - from) / steps);
  double high = std::min(to, best + (to - from) / steps);
  constexpr int narrowings = 40;
  for (int i = 0; i < narrowings; ++i) {
    const double a = high - golden * (high - low);
    const double b = low + golden * (high - low);
    if (room(a) < room(b))
      high = b;
    else
      low = a;
  }
  return std::min(least, room(0.5 * (low + high)));
}

double least_height_m(const StarWheel& wheel) {
  return height_m(wheel, 0.5 * pitch_of(wheel));
}

double two_point_height_m(const StarWheel& wheel) {
  return height_m(wheel, pitch_of(wheel));
}

StarDrive star_drive(const Box& box) {
  const StarWheel& wheel = box.star_wheel;
  StarDrive drive{.centre_m = wheel.tip_radius_m - wheel.tip_rounding_m,
                  .rounding_m = wheel.tip_rounding_m,
                  .flank_rad = wheel.flank_rad,
                  .depth_m = wheel.axis_below_disc_m - box.projection.height_m,
                  .corner_m = box.projection.corner_m,
                  .pitch_rad = pitch_of(wheel)};
  drive.leave_rad =
      std::acos(std::clamp((drive.depth_m - drive.rounding_m) / drive.centre_m, 0.0, 1.0));
  // A wheel with fewer points than it needs stays where the projection loses hold of it.
  drive.rest_rad = -std::clamp(drive.pitch_rad - drive.leave_rad, 0.0, drive.leave_rad);
  return drive;
}

}  // namespace combwright::box
