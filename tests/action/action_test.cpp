// SPDX-License-Identifier: Apache-2.0
#include "action/action.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "box/star_drive.h"

namespace combwright::action {
namespace {

// An eight-pointed wheel of 4 mm whose axis lies 3 mm under the projections' lower edge; the two
// tracks lie 50 and 100 mm from the centre.
box::Box wheel_box() {
  box::Box box;
  box.tracks = {.count = 2, .inner_radius_m = 0.05, .pitch_m = 0.05};
  box.scale.midi = {48, 72};
  box.projection = {.length_m = 0.0012, .width_m = 0.001, .height_m = 0.001, .web_m = 0.0008};
  box.star_wheel = {
      .points = 8, .tip_radius_m = 0.004, .axis_below_disc_m = 0.004, .tooth_overlap_m = 0.0001};
  box.damper.lead_time_s = 0.01;
  return box;
}

// Where a vertical face that reaches down to 3 mm over the axis touches the point's flank, by
// looking at every spot of the flank: the first one that the face meets, coming from the left.
double contact_m(double angle_rad) {
  double first = 1.0;
  constexpr int spots = 200000;
  for (int i = 0; i <= spots; ++i) {
    const double along = 0.004 * i / spots;
    if (along * std::cos(angle_rad) >= 0.003 - 1e-12)
      first = std::min(first, along * std::sin(angle_rad));
  }
  return first;
}

// The wheel waits so that one pitch on it stands where the projection slips off, acos(3 mm / 4 mm)
// past upright; sqrt(4^2 - 3^2) is how far the projection has gone by then. Pythagoras.
TEST(Action, DriveEndsWhereThePointDrawsBackBelowTheProjection) {
  const double rest = std::numbers::pi / 4.0 - std::acos(0.75);
  const double arc = 0.001 * std::sqrt(7.0) + 0.004 * std::sin(rest);
  EXPECT_NEAR(action(wheel_box(), 60.0)[0].min_arc_m, arc, 1e-12);
}

// A tip on a circle of 4 mm that reaches 0.1 mm past a tooth rises sqrt(2 * 4 * 0.1 - 0.1^2) mm
// before it has drawn back by those 0.1 mm. Pythagoras.
TEST(Action, LiftIsTheHeightOfTheChord) {
  EXPECT_NEAR(action(wheel_box(), 60.0)[0].lift_m, 0.001 * std::sqrt(0.79), 1e-12);
}

TEST(Action, ReleaseArcIsTheWayBetweenTwoContacts) {
  const double rest = std::acos(0.75) - std::numbers::pi / 4.0;
  // A point stands level with the axis whenever another one stands upright.
  EXPECT_NEAR(action(wheel_box(), 60.0)[0].release_arc_m,
              contact_m(std::acos(0.975)) - contact_m(rest), 1e-7);
}

TEST(Action, TimesAreArcsOverTheTracksSpeed) {
  for (const TrackAction& track : action(wheel_box(), 60.0)) {
    const double speed = 2.0 * std::numbers::pi * track.radius_m / 60.0;
    EXPECT_NEAR(track.release_delay_s * speed, track.release_arc_m, 1e-12);
    EXPECT_NEAR(track.min_interval_s * speed, track.min_arc_m, 1e-12);
  }
}

// Brute force: through the whole drive no spot of the following point's flank may lie in the
// projection, between its ends and above its lower edge.
TEST(Action, TheLongestProjectionJustClearsTheFollowingPoint) {
  const double pitch = std::numbers::pi / 4.0;
  const double leave = std::acos(0.75);
  double room = 1.0;
  for (int step = 0; step <= 2000; ++step) {
    const double angle = leave - pitch + pitch * step / 2000;
    const double edge = angle <= 0.0 ? 0.004 * std::sin(angle) : 0.003 * std::tan(angle);
    for (int spot = 0; spot <= 4000; ++spot) {
      const double along = 0.004 * spot / 4000;
      if (along * std::cos(angle - pitch) > 0.003)
        room = std::min(room, edge - along * std::sin(angle - pitch));
    }
  }
  EXPECT_NEAR(box::star_drive(wheel_box()).longest_projection_m(), room, 2e-6);
}

// Turned on by the gap from where it waits, the point meets the projection's face the damper's lead
// before the tooth is let go, or where the next point meets the tooth (level with the axis, this
// one upright) if that is earlier; the contacts are found spot by spot.
TEST(Action, DamperGapIsTheTipsWayUntilTheDamperTouches) {
  const double rest = std::acos(0.75) - std::numbers::pi / 4.0;
  for (const double lead_s : {0.001, 0.05, 0.085}) {
    box::Box box = wheel_box();
    box.damper.lead_time_s = lead_s;
    for (const TrackAction& track : action(box, 60.0)) {
      ASSERT_GT(track.release_delay_s, lead_s);
      const double speed = 2.0 * std::numbers::pi * track.radius_m / 60.0;
      const double arc = contact_m(rest + track.gap_m / 0.004) - contact_m(rest);
      EXPECT_NEAR(arc,
                  std::min(track.release_arc_m - speed * lead_s, contact_m(0.0) - contact_m(rest)),
                  1e-7);
    }
  }
}

TEST(Action, DampersThatShouldTouchBeforeTheWheelTurnsRestOnTheirTeeth) {
  box::Box box = wheel_box();
  box.damper.lead_time_s = action(box, 60.0)[1].release_delay_s + 0.001;
  const std::vector<TrackAction> tracks = action(box, 60.0);
  EXPECT_GT(tracks[0].gap_m, 0.0);
  EXPECT_EQ(tracks[1].gap_m, 0.0);
}

TEST(Action, ProjectionsLongerThanTheWheelsPitchSetTheLeastArc) {
  box::Box box = wheel_box();
  box.projection.length_m = 0.004;
  const TrackAction track = action(box, 60.0)[0];
  EXPECT_GT(track.min_arc_m, 0.0048);
  EXPECT_LT(track.min_arc_m, 0.0050);
}

TEST(Action, ADamperSlowerThanTheWheelSetsTheLeastInterval) {
  box::Box box = wheel_box();
  box.damper.lead_time_s = 2.0;
  EXPECT_DOUBLE_EQ(action(box, 60.0)[0].min_interval_s, 2.0);
}

// At twice the radius the same arc takes half the time.
TEST(Action, ADamperThatCannotTouchSoEarlyIsToldOfWithTheLeadItHas) {
  box::Box box = wheel_box();
  const double slow_s = action(box, 60.0)[0].release_delay_s;
  box.damper.lead_time_s = 0.75 * slow_s;
  const std::vector<TrackAction> tracks = action(box, 60.0);
  EXPECT_NEAR(tracks[0].damper_lead_s, 0.75 * slow_s, 1e-12);
  EXPECT_GT(tracks[0].gap_m, 0.0);
  EXPECT_NEAR(tracks[1].damper_lead_s, 0.5 * slow_s, 1e-12);
  EXPECT_NEAR(tracks[1].gap_m, 0.0, 1e-12);
  const Findings told = findings(box, tracks);
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0].where, "damper.lead_time");
  EXPECT_NE(told[0].what.find("on 1 of 2 tracks"), std::string::npos) << told[0].what;
  EXPECT_TRUE(findings(wheel_box(), action(wheel_box(), 60.0)).empty());
}

}  // namespace
}  // namespace combwright::action
