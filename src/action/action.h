// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/finding.h"
#include "box/box.h"

namespace combwright::action {

// How one track behaves when a projection passes.
struct TrackAction {
  int track = 0;
  double radius_m = 0.0;
  double lift_m = 0.0;           // of the tooth tip when it is let go
  double release_arc_m = 0.0;    // disc travel from first touch to letting go
  double release_delay_s = 0.0;  // the same as time
  double min_arc_m = 0.0;        // between two projections on this track
  double min_interval_s = 0.0;   // the same as time
  double damper_lead_s = 0.0;    // from the damper's touch to letting go
  double gap_m = 0.0;            // damper gap to set
};

// Planar geometry of a projection turning a star wheel by one point, for every track in order of
// number, at the given time for one turn of the disc.
//
// The damper gap is a first model: the damper moves with the tip of the point that drives it,
// through the same way, and touches the tooth when it has moved through the gap. So
//   gap = tip radius * angle turned between first touch and damper_lead_s before letting go,
// the angle from the drive's geometry. It holds for a wheel that stands still until a projection
// meets it, and leaves out how far the tooth still swings and how far the damper bends. It is 0
// where the damper should touch before the projection meets the wheel (Damper::lead_time_s is
// longer than release_delay_s): there the lead is release_delay_s, with a damper that rests on the
// tooth.
std::vector<TrackAction> action(const box::Box& box, double turn_time_s);

// What to look at in that: tracks on which the damper cannot touch as early as the box asks.
Findings findings(const box::Box& box, const std::vector<TrackAction>& tracks);

// Angle on the disc from a projection's leading edge to the end of its trailing side, where the
// inner corner reaches furthest round.
double trailing_angle_rad(const box::Projection& projection, double radius_m);

}  // namespace combwright::action
