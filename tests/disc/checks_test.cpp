// SPDX-License-Identifier: Apache-2.0
#include "disc/checks.h"

#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "action/action.h"
#include "arrange/limits.h"
#include "base/angle.h"
#include "disc/plan.h"
#include "disc/polygon.h"
#include "disc/sample_box.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// A disc by hand: the angle is what the disc has turned when the projection meets the star wheel.
class DiscByHand {
 public:
  explicit DiscByHand(const box::Box& box) : box_(box) {
    disc_.outer_radius_m = box.disc.diameter_m / 2.0;
    disc_.turn_time_s = box.motor.turn_time_s;
  }
  DiscByHand& hit(int track, double turned_rad) {
    const double touch_s = turned_rad / two_pi * disc_.turn_time_s;
    disc_.projections.push_back(
        {.track = track,
         .midi = 60,
         .radius_m = box_.tracks.inner_radius_m + (track - 1) * box_.tracks.pitch_m,
         .angle_rad = angle_at(box_.disc.turning, touch_s, disc_.turn_time_s),
         .time_s = touch_s + 0.5,
         .note = 0});
    return *this;
  }
  Findings check() const { return check_disc(box_, disc_); }
  const Disc& disc() const { return disc_; }

 private:
  box::Box box_;
  Disc disc_;
};

auto finding(Level level, const std::string& where, const std::string& what) {
  return AllOf(Field(&Finding::level, level), Field(&Finding::where, HasSubstr(where)),
               Field(&Finding::what, HasSubstr(what)));
}

class ChecksTest : public ::testing::TestWithParam<box::Turning> {
 protected:
  box::Box box_ = testing::sample_box(GetParam());
};

INSTANTIATE_TEST_SUITE_P(BothWays, ChecksTest,
                         ::testing::Values(box::Turning::clockwise,
                                           box::Turning::counter_clockwise),
                         [](const auto& instance) {
                           return instance.param == box::Turning::clockwise ? "Clockwise"
                                                                            : "CounterClockwise";
                         });

TEST_P(ChecksTest, DiscWithRoomForEverythingHasNoFindings) {
  EXPECT_THAT(DiscByHand(box_).hit(1, 1.0).hit(1, 1.3).hit(2, 1.0).hit(76, 6.05).check(),
              IsEmpty());
}

TEST_P(ChecksTest, HolesThatRunIntoEachOtherAreAFault) {
  const double arc_m = box_.projection.length_m - 0.0001;
  EXPECT_THAT(
      DiscByHand(box_).hit(10, 1.0).hit(10, 1.0 + arc_m / 0.068).check(),
      ElementsAre(finding(Level::fault, "track 10", "the hole runs into the one at track 10"),
                  finding(Level::fault, "track 10", "2.40 mm after")));
}

// Two holes side by side at one angle: pitch less width.
TEST_P(ChecksTest, WebToTheNextTrackIsThePitchLessTheWidth) {
  box_.projection.web_m = 0.0010;
  EXPECT_THAT(DiscByHand(box_).hit(10, 1.0).hit(11, 1.0).check(), IsEmpty());
  box_.projection.web_m = 0.0011;
  EXPECT_THAT(DiscByHand(box_).hit(10, 1.0).hit(11, 1.0).check(),
              ElementsAre(finding(Level::fault, "track 11",
                                  "only 1.00 mm of sheet to the hole at track 10")));
}

TEST_P(ChecksTest, WebReachesAsFarAsTheBoxAsks) {
  box_.projection.web_m = 0.0031;
  EXPECT_THAT(DiscByHand(box_).hit(10, 1.0).hit(12, 1.0).check(),
              ElementsAre(finding(Level::fault, "track 12", "only 3.00 mm")));
}

TEST_P(ChecksTest, ProjectionBeforeTheStarWheelIsAtRestIsAFault) {
  const double least_m = action::action(box_, 66.0)[9].min_arc_m;
  ASSERT_GT(least_m, box_.projection.length_m + 1.1 * box_.projection.web_m);
  EXPECT_THAT(DiscByHand(box_).hit(10, 1.0).hit(10, 1.0 + least_m / 0.068).check(), IsEmpty());
  EXPECT_THAT(DiscByHand(box_).hit(10, 1.0).hit(10, 1.0 + (least_m - 1e-6) / 0.068).check(),
              ElementsAre(finding(Level::fault, "track 10", "the star wheel needs")));
}

TEST_P(ChecksTest, ArcIsCountedAcrossTheStartLine) {
  box_.disc.start_gap_rad = 0.0;
  EXPECT_THAT(DiscByHand(box_).hit(76, 0.002).hit(76, two_pi - 0.016).check(),
              ElementsAre(finding(Level::fault, "track 76", "as the disc plays on")));
  EXPECT_THAT(DiscByHand(box_).hit(76, 0.002).hit(76, two_pi - 0.03).check(), IsEmpty());
}

TEST_P(ChecksTest, HoleThatReachesIntoTheStartGapIsAFault) {
  const double gap_ends = box_.disc.start_gap_rad;
  EXPECT_THAT(DiscByHand(box_).hit(76, gap_ends).check(), IsEmpty());
  EXPECT_THAT(DiscByHand(box_).hit(76, gap_ends - 0.001).check(),
              ElementsAre(finding(Level::fault, "track 76", "into the start gap of 11.459 deg")));
}

TEST_P(ChecksTest, HoleThatTrailsAcrossTheStartLineIsAFault) {
  EXPECT_THAT(DiscByHand(box_).hit(76, two_pi - 0.0126).check(), IsEmpty());
  EXPECT_THAT(DiscByHand(box_).hit(76, two_pi - 0.0100).check(),
              ElementsAre(finding(Level::fault, "track 76", "into the start gap of 11.459 deg")));
}

TEST_P(ChecksTest, HolesInTheEdgeMarginAreOneFaultForEachTrack) {
  box_.disc.edge_margin_m = 0.0145;
  EXPECT_THAT(DiscByHand(box_).hit(75, 1.0).hit(76, 2.0).hit(76, 3.0).check(),
              ElementsAre(finding(Level::fault, "track 76", "reach out to 200.52 mm")));
}

// The hole's near end at the drive hole's angle: distance is plain subtraction of radii.
TEST_P(ChecksTest, SheetToADriveHoleIsMeasuredFromItsEdge) {
  box_.disc.drive_hole_radius_m = 0.046;
  box_.disc.drive_hole_diameter_m = 0.006;
  const double turned = GetParam() == box::Turning::clockwise ? 0.3 : two_pi - 0.3;
  EXPECT_THAT(
      DiscByHand(box_).hit(1, turned).check(),
      ElementsAre(finding(Level::fault, "track 1", "only 0.50 mm of sheet to drive hole 1")));
}

TEST_P(ChecksTest, HoleInTheCentreHoleIsAFault) {
  box_.disc.centre_hole_diameter_m = 0.1;
  EXPECT_THAT(DiscByHand(box_).hit(1, 1.0).check(),
              ElementsAre(finding(Level::fault, "track 1", "the hole runs into centre hole")));
}

TEST_P(ChecksTest, RollerOverHolesIsAWarningForItsTrack) {
  box_.hold_down.roller_radius_m = {0.0535};
  EXPECT_THAT(DiscByHand(box_).hit(1, 1.0).hit(2, 1.0).hit(2, 2.0).hit(4, 3.0).check(),
              ElementsAre(finding(Level::warning, "track 2, hold-down roller at 53.50 mm",
                                  "over 2 of this track's holes")));
}

TEST_P(ChecksTest, MorePlucksInAWindowThanTheMotorTakesIsAFault) {
  box_.motor.most_plucks = 3;
  box_.motor.pluck_window_s = 0.1;
  const double window_rad = 0.1 / 66.0 * two_pi;
  DiscByHand three(box_);
  three.hit(10, 1.0).hit(20, 1.0).hit(30, 1.0).hit(40, 1.0 + 1.000001 * window_rad);
  EXPECT_THAT(three.check(), IsEmpty());
  DiscByHand four(box_);
  four.hit(10, 1.0).hit(20, 1.0).hit(30, 1.0).hit(40, 1.0 + window_rad);
  EXPECT_THAT(four.check(), ElementsAre(finding(Level::fault, "track 10",
                                                "4 plucks within 100 ms; the motor takes 3")));
}

// The rule of the arranger, asked of its own code: whatever it calls broken is a fault here.
TEST_P(ChecksTest, TheMotorsWindowIsTheArrangers) {
  arrange::Problem problem;
  problem.pluck_window_s = 0.1;
  problem.most_plucks = 1;
  problem.teeth.resize(2);
  box_.motor.most_plucks = 1;
  box_.motor.pluck_window_s = 0.1;
  for (const double apart_s : {0.0999, 0.1, 0.1 + 1e-12, 0.1 + 2e-9, 0.1001}) {
    const bool broken =
        !arrange::broken_capacities(
             problem, {{.tooth = 0, .time_s = 10.0}, {.tooth = 1, .time_s = 10.0 + apart_s}})
             .empty();
    DiscByHand two(box_);
    two.hit(10, 1.0).hit(40, 1.0 + apart_s / 66.0 * two_pi);
    EXPECT_EQ(has_fault(two.check()), broken) << apart_s;
  }
}

TEST_P(ChecksTest, SweepFindsTheSamePairsAsTryingAll) {
  box_.tracks.count = 12;
  box_.tracks.pitch_m = 0.0015;
  box_.scale.midi.resize(12);
  box_.disc.start_gap_rad = 0.0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    std::mt19937_64 random(seed);
    DiscByHand by_hand(box_);
    for (int i = 0; i < 45; ++i) {
      by_hand.hit(1 + static_cast<int>(12 * testing::unit(random)), two_pi * testing::unit(random));
    }
    const std::vector<Projection>& hits = by_hand.disc().projections;
    std::ptrdiff_t tight = 0;
    for (std::size_t i = 0; i < hits.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        const double apart_m = distance_m(footprint(box_, hits[i].radius_m, hits[i].angle_rad),
                                          footprint(box_, hits[j].radius_m, hits[j].angle_rad));
        if (apart_m < box_.projection.web_m - length_slack_m) ++tight;
      }
    }
    ASSERT_LE(tight, 20);
    const Findings findings = by_hand.check();
    EXPECT_EQ(std::count_if(findings.begin(), findings.end(),
                            [](const Finding& found) {
                              return found.what.find("of sheet to the hole") != std::string::npos ||
                                     found.what.find("runs into the one") != std::string::npos;
                            }),
              tight)
        << "seed " << seed;
  }
}

TEST(Checks, PlaceNamesTrackAngleTimeAndBar) {
  box::Box box = testing::sample_box();
  box.projection.web_m = 0.0011;
  Disc disc = DiscByHand(box).hit(1, 1.0).hit(2, 1.0).disc();
  for (Projection& projection : disc.projections) projection.bar = 7;
  const Findings findings = check_disc(box, disc);
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_EQ(findings[0].where, "track 2, 57.296 deg, 11.00 s, bar 7");
  EXPECT_EQ(
      findings[0].what,
      "only 1.00 mm of sheet to the hole at track 1, 57.296 deg, 11.00 s, bar 7; the box asks "
      "for 1.10 mm");
}

TEST(Checks, SpotNamesTheHitsByTheirNumberInTheOrderOfThePunch) {
  box::Box box = testing::sample_box();
  box.projection.web_m = 0.0011;
  box.hold_down.roller_radius_m = {box.tracks.inner_radius_m + 49 * box.tracks.pitch_m};
  box.motor.most_plucks = 1;
  box.motor.pluck_window_s = 0.1;
  const Findings findings =
      DiscByHand(box).hit(50, 3.0).hit(1, 2.0).hit(20, 0.5).hit(2, 2.0).check();
  ASSERT_EQ(findings.size(), 3U);
  EXPECT_EQ(findings[0].at.track, 2);
  EXPECT_THAT(findings[0].at.hits, ElementsAre(4, 2));
  EXPECT_THAT(findings[1].where, HasSubstr("roller"));
  EXPECT_EQ(findings[1].at.track, 50);
  EXPECT_THAT(findings[1].at.hits, IsEmpty());
  EXPECT_THAT(findings[2].what, HasSubstr("2 plucks"));
  EXPECT_EQ(findings[2].at.track, 0);
  EXPECT_THAT(findings[2].at.hits, ElementsAre(2, 4));
}

TEST(Checks, ManyOfAKindAreCountedAfterTheFirst) {
  box::Box box = testing::sample_box();
  box.projection.web_m = 0.0011;
  DiscByHand by_hand(box);
  for (int i = 1; i <= 30; ++i) by_hand.hit(1, 0.2 * i).hit(2, 0.2 * i);
  const Findings findings = by_hand.check();
  ASSERT_EQ(findings.size(), most_findings_of_a_kind + 1);
  EXPECT_EQ(findings.back().what, "10 more like the last");
}

// As a hostile plan may have them: without a bound on the pairs this takes minutes.
TEST(Checks, AsManyHolesAsAPlanMayHoldOnOneSpotAreToldOnceAndEnd) {
  box::Box box = testing::sample_box();
  box.disc.drive_hole_count = 1000;
  box.disc.drive_hole_radius_m = 0.05;
  DiscByHand by_hand(box);
  for (std::size_t i = 0; i < max_plan_projections; ++i) by_hand.hit(1 + (i % 2 == 0 ? 0 : 1), 1.0);
  const Findings findings = by_hand.check();
  EXPECT_LT(findings.size(), 8 * (most_findings_of_a_kind + 1));
  EXPECT_THAT(findings, Contains(finding(Level::fault, "disc", "not all were compared")));
  EXPECT_THAT(findings, Contains(finding(Level::fault, "disc", "more like the last")));
}

// Exactly at a limit is right, a hair below is not. Geometry by hand.
TEST(Checks, SheetAtTheWebIsEnough) {
  box::Box box = testing::sample_box();
  box.projection.length_m = 0.0004;  // short enough that the nearest corners face each other
  const auto at_gap = [&](double gap_m) {
    box.projection.width_m = box.tracks.pitch_m - gap_m;
    return DiscByHand(box).hit(10, 1.0).hit(11, 1.0).check();
  };
  box.projection.web_m = 0.0008;
  EXPECT_THAT(at_gap(0.0008), IsEmpty());
  EXPECT_THAT(at_gap(0.0008 - 2e-9), ElementsAre(finding(Level::fault, "track 11", "of sheet")));
  box.projection.web_m = 0.0;
  EXPECT_THAT(at_gap(1e-6), IsEmpty());
  EXPECT_THAT(at_gap(-1e-6), ElementsAre(finding(Level::fault, "track 11", "runs into")));
}

// The roller from 43 to 47 mm, holes from radius less half a width on.
TEST(Checks, RollerBesideTheHolesIsNoWarning) {
  box::Box box = testing::sample_box();
  const auto with_roller_at = [&](double radius_m) {
    box.hold_down = {.roller_radius_m = {radius_m}, .roller_width_m = 0.004};
    return DiscByHand(box).hit(1, 1.0).check();
  };
  EXPECT_THAT(with_roller_at(0.0495 - 0.002), IsEmpty());
  EXPECT_THAT(with_roller_at(0.0495 - 0.002 + 2e-9),
              ElementsAre(finding(Level::warning, "track 1", "runs over 1 of")));
  const double outer_m = std::hypot(0.0505, box.projection.length_m);
  EXPECT_THAT(with_roller_at(outer_m + 0.002), IsEmpty());
  EXPECT_THAT(with_roller_at(outer_m + 0.002 - 2e-9),
              ElementsAre(finding(Level::warning, "track 1", "runs over 1 of")));
}

// Inner edge of the first track's holes at 49.5 mm.
TEST(Checks, SheetToTheCentreHoleIsEnoughAtTheWeb) {
  box::Box box = testing::sample_box();
  box.disc.drive_hole_count = 0;
  box.hold_down.roller_radius_m.clear();
  const auto with_hole = [&](double radius_m) {
    box.disc.centre_hole_diameter_m = 2.0 * radius_m;
    return DiscByHand(box).hit(1, 1.0).check();
  };
  EXPECT_THAT(with_hole(0.0495 - box.projection.web_m), IsEmpty());
  EXPECT_THAT(with_hole(0.0495 - box.projection.web_m + 2e-9),
              ElementsAre(finding(Level::fault, "track 1", "of sheet to centre hole")));
  EXPECT_THAT(with_hole(0.0495 + 1e-7), ElementsAre(finding(Level::fault, "track 1", "runs into")));
  box.projection.web_m = 0.0;
  EXPECT_THAT(with_hole(0.0495 + 1e-7), ElementsAre(finding(Level::fault, "track 1", "runs into")));
}

}  // namespace
}  // namespace combwright::disc
