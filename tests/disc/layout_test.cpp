// SPDX-License-Identifier: Apache-2.0
#include "disc/layout.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "action/action.h"
#include "disc/footprint.h"
#include "disc/recover.h"
#include "disc/sample_box.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

using testing::random_arrangement;
using testing::sample_box;

using std::numbers::pi;
constexpr TourOptions quick{.seed = 1, .effort = 5};

class LayoutTest : public ::testing::TestWithParam<box::Turning> {
 protected:
  const box::Box box_ = sample_box(GetParam());
};

INSTANTIATE_TEST_SUITE_P(BothWays, LayoutTest,
                         ::testing::Values(box::Turning::clockwise,
                                           box::Turning::counter_clockwise),
                         [](const auto& instance) {
                           return instance.param == box::Turning::clockwise ? "Clockwise"
                                                                            : "CounterClockwise";
                         });

// One sign and one constant for the whole disc: angle T / 2 pi -+ time = -+ arc / R T / 2 pi.
TEST_P(LayoutTest, AngleAndTimeDifferByTheReleaseArcOnEveryTrack) {
  const arrange::Arrangement arrangement = random_arrangement(box_, 300, 1);
  const Disc disc = lay_out(box_, arrangement, {}, quick);
  const auto action = action::action(box_, arrangement.turn_time_s);
  const double turn_s = arrangement.turn_time_s;
  const double sign = GetParam() == box::Turning::clockwise ? 1.0 : -1.0;
  ASSERT_EQ(disc.projections.size(), 300U);
  for (const Projection& p : disc.projections) {
    const double arc_m = action[static_cast<std::size_t>(p.track - 1)].release_arc_m;
    ASSERT_GT(arc_m, 0.0);
    const double left = p.angle_rad * turn_s / (2 * pi) - sign * p.time_s;
    const double right = -sign * arc_m / p.radius_m * turn_s / (2 * pi);
    EXPECT_NEAR(std::remainder(left - right, turn_s), 0.0, 1e-9);
    EXPECT_GE(p.angle_rad, 0.0);
    EXPECT_LT(p.angle_rad, 2 * pi);
  }
}

// The disc is turned in its box, without the layout's own formula: the star wheels stand on +X. A
// release arc before the pluck the leading edge must lie there, and the rest of the projection must
// still be on the side it comes from.
TEST_P(LayoutTest, LeadingEdgeComesFirstAndMeetsTheStarWheelBeforeThePluck) {
  const arrange::Arrangement arrangement = random_arrangement(box_, 50, 2);
  const Disc disc = lay_out(box_, arrangement, {}, quick);
  const auto action = action::action(box_, arrangement.turn_time_s);
  const double side = GetParam() == box::Turning::clockwise ? 1.0 : -1.0;
  for (const Projection& p : disc.projections) {
    const double touch_s = p.time_s - action[static_cast<std::size_t>(p.track - 1)].release_delay_s;
    const double turned = -side * 2 * pi * touch_s / arrangement.turn_time_s;
    const auto corners = footprint(box_, p.radius_m, p.angle_rad + turned);
    for (const std::size_t leading : {0, 1}) EXPECT_NEAR(corners[leading].y_m, 0.0, 1e-12);
    for (const std::size_t trailing : {2, 3}) {
      EXPECT_NEAR(side * corners[trailing].y_m, box_.projection.length_m, 1e-12);
    }
  }
}

TEST_P(LayoutTest, RecoveringTheLaidOutDiscGivesTheArrangementBack) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    arrange::Arrangement arrangement = random_arrangement(box_, 100, seed);
    std::sort(arrangement.plucks.begin(), arrangement.plucks.end(),
              [](const auto& a, const auto& b) { return a.time_s < b.time_s; });
    Disc disc = lay_out(box_, arrangement, {}, quick);
    // As if measured with a rule: no track, the radius a third of a pitch off.
    for (std::size_t i = 0; i < disc.projections.size(); i += 2) {
      disc.projections[i].track = 0;
      disc.projections[i].radius_m += (i % 4 == 0 ? 1 : -1) * box_.tracks.pitch_m / 3.0;
    }
    const auto plucks = recover_plucks(box_, disc.projections, arrangement.turn_time_s);
    ASSERT_EQ(plucks.size(), arrangement.plucks.size());
    for (std::size_t i = 0; i < plucks.size(); ++i) {
      EXPECT_NEAR(plucks[i].time_s, arrangement.plucks[i].time_s, 1e-9);
      EXPECT_EQ(plucks[i].track, arrangement.plucks[i].track);
      EXPECT_EQ(plucks[i].note, arrangement.plucks[i].note);
    }
  }
}

TEST_P(LayoutTest, PluckBeforeItsReleaseDelayIsTouchedAtTheEndOfTheTurnAndRecovered) {
  arrange::Arrangement arrangement = random_arrangement(box_, 0, 1);
  arrangement.plucks.push_back({.time_s = 0.001, .track = 1, .note = 0});
  const Disc disc = lay_out(box_, arrangement, {}, quick);
  EXPECT_GT(touch_time_s(GetParam(), disc.projections[0].angle_rad, 66.0), 60.0);
  EXPECT_NEAR(recover_plucks(box_, disc.projections, 66.0)[0].time_s, 0.001, 1e-9);
}

// Arc speed 2 pi R / T = 9.519978 mm/s for R 100 mm, T 66 s (elementary kinematics).
TEST(Layout, OneSecondOnARadiusOf100MillimetresIsItsArc) {
  const box::Box box = sample_box();
  arrange::Arrangement arrangement = random_arrangement(box, 0, 1);
  arrangement.plucks = {{.time_s = 10.0, .track = 26, .note = 0},
                        {.time_s = 11.0, .track = 26, .note = 1}};
  const Disc disc = lay_out(box, arrangement, {}, quick);
  EXPECT_NEAR(disc.projections[0].radius_m, 0.1, 1e-15);
  const double angle = angle_between(disc.projections[0].angle_rad, disc.projections[1].angle_rad);
  EXPECT_NEAR(angle * 0.1, 9.519978e-3, 5e-10);
}

TEST(Layout, EveryPluckIsHitOnceInTheOrderWhoseMovesAddUpToTheTour) {
  const box::Box box = sample_box();
  const arrange::Arrangement arrangement = random_arrangement(box, 200, 3);
  const Disc disc = lay_out(box, arrangement, {}, quick);
  std::set<int> notes;
  double moved_s = 0.0;
  for (std::size_t i = 0; i < disc.projections.size(); ++i) {
    const Projection& from = disc.projections[i];
    const Projection& to = disc.projections[(i + 1) % disc.projections.size()];
    notes.insert(from.note);
    moved_s += move_time_s({}, {from.radius_m, from.angle_rad}, {to.radius_m, to.angle_rad});
  }
  EXPECT_EQ(notes.size(), 200U);
  EXPECT_NEAR(moved_s, disc.tour.length_s, 1e-9);
  EXPECT_LE(disc.tour.bound_s, disc.tour.length_s);
}

TEST(Layout, ArrangementWithoutPlucksGivesAPlainDisc) {
  const box::Box box = sample_box();
  const Disc disc = lay_out(box, random_arrangement(box, 0, 1), {}, quick);
  EXPECT_TRUE(disc.projections.empty());
  EXPECT_TRUE(disc.findings.empty());
  EXPECT_EQ(disc.tour.length_s, 0.0);
  EXPECT_EQ(disc.outer_radius_m, 0.215);
}

}  // namespace
}  // namespace combwright::disc
