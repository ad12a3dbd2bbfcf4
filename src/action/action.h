// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "base/finding.h"
#include "box/box.h"

namespace combwright::action {

// How the tooth of one comb behaves when a projection passes.
struct ToothAction {
  std::size_t comb = 0;          // place in Box::combs
  double lift_m = 0.0;           // of its tip when it is let go
  double meet_arc_m = 0.0;       // disc travel from first touch to where the point meets it
  double release_arc_m = 0.0;    // and to where it is let go
  double release_delay_s = 0.0;  // the same as time
  bool let_go = true;            // false: the projection slips off its point before that
};

// How one track behaves when a projection passes. Where a box has two combs, this is how the first
// one's tooth does.
struct TrackAction {
  int track = 0;
  double radius_m = 0.0;
  double lift_m = 0.0;             // of the tooth tip when it is let go
  double release_arc_m = 0.0;      // disc travel from first touch to letting go
  double release_delay_s = 0.0;    // the same as time
  double min_arc_m = 0.0;          // between two projections on this track
  double min_interval_s = 0.0;     // the same as time
  double damper_lead_s = 0.0;      // from the damper's touch to letting go
  double gap_m = 0.0;              // damper gap to set
  double pair_apart_s = 0.0;       // from letting go the first comb's tooth to the second one's
  std::vector<ToothAction> teeth;  // one for each comb
};

// How a star wheel waits, the same on every track.
struct WheelAction {
  double rest_rad = 0.0;      // of the point to be driven, from upright; negative before it
  double leave_rad = 0.0;     // where a projection slips off it
  double catch_m = 0.0;       // by so much the waiting tip stands above the projections' lower edge
  double drift_on_rad = 0.0;  // how far the waiting wheel may turn on, and back, until a projection
  double drift_back_rad = 0.0;  // would find another point
  double passing_m = 0.0;       // room between two points for a projection, beyond its length
};

// Planar geometry of a projection turning a star wheel by one point, and of that plucking a tooth,
// for every track in order of number, at the given time for one turn of the disc: docs/action.md.
// The wheel waits where the last projection slipped off it. Teeth have the lengths of
// box::tooth_length_m.
//
// The damper moves with the tip of the driven point, `ratio` times as far, and touches the tooth
// when it has moved through its gap. It is to touch lead_time_s before the tooth is let go, and no
// later than the point meets the tooth, which rings until then:
//   gap = ratio (tip radius * angle turned until then - stands).
// It is 0 where that would be before the damper is moved at all: there it rests on the tooth, and
// the lead is what the travel from there gives.
std::vector<TrackAction> action(const box::Box& box, double turn_time_s);

// How far the tooth of each comb on each track, in order of number, is lifted when it is let go:
// the lifts of action(), at any turn time.
std::vector<std::vector<double>> lifts_m(const box::Box& box);

// Between the tooth of each comb on each track, ringing as far as it was lifted, and the point that
// waits to pluck it next; negative where it knocks.
std::vector<std::vector<double>> airs_m(const box::Box& box);

// The waiting wheel of a box that has passed its reader.
WheelAction wheel_action(const box::Box& box);

// What to look at in that: tracks on which the damper cannot touch as early as the box asks, pairs
// that are let go apart, teeth not let go, a damper that never touches or still touches after the
// pluck, teeth that ring against the waiting point.
Findings findings(const box::Box& box, const std::vector<TrackAction>& tracks);

// Angle on the disc from a projection's leading edge to the end of its trailing side, where the
// inner corner reaches furthest round.
double trailing_angle_rad(const box::Projection& projection, double radius_m);

}  // namespace combwright::action
