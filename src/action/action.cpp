// SPDX-License-Identifier: Apache-2.0
#include "action/action.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/quantity.h"
#include "box/measures.h"

namespace combwright::action {
namespace {

// A projection drives a star wheel by one point. Angles are those of the driven point from the
// vertical, negative before it; travel is that of the projection's leading edge from under the
// axis.
struct Drive {
  double tip_radius_m;
  double edge_depth_m;  // from the axis up to the projection's lower edge
  double rest_rad;      // where the point waits
  double leave_rad;     // where the projection slips off it

  // Until the point stands upright the leading face pushes its tip; from there on the lower edge
  // pushes its flank.
  double travel_m(double angle_rad) const {
    return angle_rad <= 0.0 ? tip_radius_m * std::sin(angle_rad)
                            : edge_depth_m * std::tan(angle_rad);
  }
  double arc_to_m(double angle_rad) const { return travel_m(angle_rad) - travel_m(rest_rad); }

  // The angle at that much of the arc, the inverse of arc_to_m.
  double angle_after_rad(double arc_m) const {
    const double travel = travel_m(rest_rad) + arc_m;
    return travel <= 0.0 ? std::asin(travel / tip_radius_m) : std::atan(travel / edge_depth_m);
  }
};

Drive drive(const box::Box& box) {
  const double r = box.star_wheel.tip_radius_m;
  const double depth = box.star_wheel.axis_below_disc_m - box.projection.height_m;
  assert(depth > 0.0 && depth < r);
  const double leave = std::acos(depth / r);
  const double pitch = 2.0 * std::numbers::pi / box.star_wheel.points;
  // The wheel stays where the projection leaves it, one pitch on from where it waited.
  const double rest = -std::clamp(pitch - leave, 0.0, leave);
  return {.tip_radius_m = r, .edge_depth_m = depth, .rest_rad = rest, .leave_rad = leave};
}

// Arc on the track from one projection's leading edge to the next one's that leaves the web of
// sheet between two straight projections: the inner corner of the first one's far end is nearest
// to the second one's leading edge.
double web_arc_m(const box::Projection& projection, double radius_m) {
  const double inner = radius_m - 0.5 * projection.width_m;
  const double far_corner = std::hypot(inner, projection.length_m);
  return radius_m *
         (std::asin(projection.web_m / far_corner) + trailing_angle_rad(projection, radius_m));
}

}  // namespace

std::vector<TrackAction> action(const box::Box& box, double turn_time_s) {
  assert(turn_time_s > 0.0);
  const Drive wheel = drive(box);
  const double r = wheel.tip_radius_m;
  const double overlap = box.star_wheel.tooth_overlap_m;
  assert(overlap > 0.0 && overlap < r);

  // The tooth lies level with the axis; a point meets it a quarter of the pitch after the wheel
  // starts and slips off when its tip has drawn back by the overlap.
  const double lift = box::lift_m(box);
  const double meet = 0.5 * std::numbers::pi / box.star_wheel.points;
  const double release =
      std::min(wheel.rest_rad + meet + std::acos(1.0 - overlap / r), wheel.leave_rad);

  const double release_arc = wheel.arc_to_m(release);

  std::vector<TrackAction> result;
  for (const box::Track& track : box::tracks(box)) {
    const double speed = 2.0 * std::numbers::pi * track.radius_m / turn_time_s;
    const double damper_arc = std::max(0.0, release_arc - box.damper.lead_time_s * speed);
    const double min_arc =
        std::max(wheel.arc_to_m(wheel.leave_rad), web_arc_m(box.projection, track.radius_m));
    result.push_back({.track = track.number,
                      .radius_m = track.radius_m,
                      .lift_m = lift,
                      .release_arc_m = release_arc,
                      .release_delay_s = release_arc / speed,
                      .min_arc_m = min_arc,
                      .min_interval_s = std::max(min_arc / speed, box.damper.lead_time_s),
                      .damper_lead_s = std::min(box.damper.lead_time_s, release_arc / speed),
                      .gap_m = r * (wheel.angle_after_rad(damper_arc) - wheel.rest_rad)});
  }
  return result;
}

Findings findings(const box::Box& box, const std::vector<TrackAction>& tracks) {
  const TrackAction* least = nullptr;
  std::size_t late = 0;
  for (const TrackAction& track : tracks) {
    if (track.damper_lead_s >= box.damper.lead_time_s) continue;
    ++late;
    if (least == nullptr || track.damper_lead_s < least->damper_lead_s) least = &track;
  }
  if (late == 0) return {};
  return {{Level::warning, "damper.lead_time",
           fmt::format("on {} of {} tracks the damper cannot touch {} before the pluck, since the "
                       "projection meets the wheel later; with a damper that rests on the tooth, "
                       "{} on track {}",
                       late, tracks.size(), to_text(box.damper.lead_time_s, Dimension::time),
                       to_text(least->damper_lead_s, Dimension::time), least->track),
           "ask for less, or let those dampers rest on their teeth"}};
}

double trailing_angle_rad(const box::Projection& projection, double radius_m) {
  return std::atan2(projection.length_m, radius_m - 0.5 * projection.width_m);
}

}  // namespace combwright::action
