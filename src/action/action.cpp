// SPDX-License-Identifier: Apache-2.0
#include "action/action.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "action/strike.h"
#include "base/angle.h"
#include "box/measures.h"
#include "box/star_drive.h"

namespace combwright::action {
namespace {

// Arc on the track from one projection's leading edge to the next one's that leaves the web of
// sheet between two straight projections: the inner corner of the first one's far end is nearest
// to the second one's leading edge.
double web_arc_m(const box::Projection& projection, double radius_m) {
  const double inner = radius_m - 0.5 * projection.width_m;
  const double far_corner = std::hypot(inner, projection.length_m);
  return radius_m *
         (std::asin(projection.web_m / far_corner) + trailing_angle_rad(projection, radius_m));
}

// Disc travel from first touch until the driven point stands at that angle.
double arc_to_m(const box::StarDrive& drive, double angle_rad) {
  const double angle = std::clamp(angle_rad, drive.rest_rad, drive.leave_rad);
  return drive.face_m(angle) - drive.face_m(drive.rest_rad);
}

ToothAction tooth_action(const box::StarDrive& drive, const Strike& strike, std::size_t comb,
                         double speed_m_s) {
  ToothAction tooth{.comb = comb, .lift_m = strike.lift_m};
  tooth.let_go = strike.slip_rad <= drive.leave_rad;
  tooth.meet_arc_m = arc_to_m(drive, strike.meet_rad);
  tooth.release_arc_m = arc_to_m(drive, strike.slip_rad);
  tooth.release_delay_s = tooth.release_arc_m / speed_m_s;
  return tooth;
}

}  // namespace

std::vector<TrackAction> action(const box::Box& box, double turn_time_s) {
  assert(turn_time_s > 0.0);
  assert(box.star_wheel.tooth_overlap_m > 0.0 &&
         box.star_wheel.tooth_overlap_m < box.star_wheel.tip_radius_m);
  const box::StarDrive drive = box::star_drive(box);
  const double rest_face = drive.face_m(drive.rest_rad);
  const double whole_arc = drive.face_m(drive.leave_rad) - rest_face;
  const std::size_t combs = std::max<std::size_t>(1, box.combs.size());

  std::vector<TrackAction> result;
  for (const box::Track& track : box::tracks(box)) {
    const double speed = two_pi * track.radius_m / turn_time_s;
    TrackAction row{.track = track.number, .radius_m = track.radius_m};
    const int place = place_of(box, track.number);
    for (std::size_t comb = 0; comb < combs; ++comb)
      row.teeth.push_back(tooth_action(drive, strike(box, drive, comb, place), comb, speed));
    const ToothAction& first = row.teeth.front();
    row.lift_m = first.lift_m;
    row.release_arc_m = first.release_arc_m;
    row.release_delay_s = first.release_delay_s;
    row.pair_apart_s = row.teeth.back().release_delay_s - first.release_delay_s;
    row.min_arc_m = std::max(whole_arc, web_arc_m(box.projection, track.radius_m));
    row.min_interval_s = std::max(row.min_arc_m / speed, box.damper.lead_time_s);

    // The damper stills the teeth of all combs: it must be there before the first of them.
    double touch_arc = std::max(0.0, first.release_arc_m - box.damper.lead_time_s * speed);
    for (const ToothAction& tooth : row.teeth) touch_arc = std::min(touch_arc, tooth.meet_arc_m);
    const double moved =
        box.star_wheel.tip_radius_m * (drive.angle_rad(rest_face + touch_arc) - drive.rest_rad);
    row.gap_m = std::max(0.0, box.damper.ratio * (moved - box.damper.stands_m));
    if (row.gap_m == 0.0) {
      const double from = drive.rest_rad + box.damper.stands_m / box.star_wheel.tip_radius_m;
      touch_arc = arc_to_m(drive, from);
    }
    row.damper_lead_s = (first.release_arc_m - touch_arc) / speed;
    result.push_back(std::move(row));
  }
  return result;
}

std::vector<std::vector<double>> lifts_m(const box::Box& box) {
  std::vector<std::vector<double>> result(box.combs.size());
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    for (const box::Track& track : box::tracks(box))
      result[comb].push_back(box::lift_m(box, box.combs[comb], place_of(box, track.number)));
  }
  return result;
}

std::vector<std::vector<double>> airs_m(const box::Box& box) {
  const box::StarDrive drive = box::star_drive(box);
  std::vector<std::vector<double>> result(box.combs.size());
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    for (const box::Track& track : box::tracks(box))
      result[comb].push_back(
          strike(box, drive, comb, place_of(box, track.number)).air_to_waiting_m(drive.rest_rad));
  }
  return result;
}

WheelAction wheel_action(const box::Box& box) {
  const box::StarDrive drive = box::star_drive(box);
  WheelAction wheel{.rest_rad = drive.rest_rad, .leave_rad = drive.leave_rad};
  wheel.catch_m = drive.centre_m * std::cos(drive.rest_rad) + drive.rounding_m - drive.depth_m;
  wheel.drift_back_rad = drive.rest_rad + drive.leave_rad;
  wheel.drift_on_rad = drive.pitch_rad - drive.leave_rad - drive.rest_rad;
  wheel.passing_m = drive.longest_projection_m() - box.projection.length_m;
  return wheel;
}

double trailing_angle_rad(const box::Projection& projection, double radius_m) {
  return std::atan2(projection.length_m, radius_m - 0.5 * projection.width_m);
}

}  // namespace combwright::action
