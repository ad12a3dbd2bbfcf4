// SPDX-License-Identifier: Apache-2.0
#include "action/strike.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

#include "action/action.h"
#include "box/measures.h"

namespace combwright::action {
namespace {

constexpr double one_degree = std::numbers::pi / 180.0;
constexpr double endless = std::numeric_limits<double>::infinity();

// Two tracks with combs of teeth 30 and 20 mm long.
box::Box pair_box(int points = 8) {
  box::Box box;
  box.tracks = {.count = 2, .inner_radius_m = 0.05, .pitch_m = 0.05};
  box.scale.midi = {48, 72};
  box.disc.thickness_m = 0.0005;
  box.projection = {.length_m = 0.0012, .width_m = 0.001, .height_m = 0.001, .web_m = 0.0008};
  box.star_wheel = {.points = points,
                    .tip_radius_m = 0.004,
                    .axis_below_disc_m = 0.0045,
                    .tooth_overlap_m = 0.0001,
                    .tip_rounding_m = 0.00005,
                    .flank_rad = 8.0 * one_degree};
  box.combs.resize(2);
  for (box::Comb& comb : box.combs) {
    comb.longest_tooth_m = 0.030;
    comb.shortest_tooth_m = 0.020;
  }
  box.combs[1].plucked = box::Plucked::up;
  box.damper = {.lead_time_s = 0.01, .reach_m = 0.0013};
  return box;
}

Strike strike_of(const box::Box& box, std::size_t comb = 0, int place = 0) {
  return strike(box, box::star_drive(box), comb, place);
}

// The arc of a cantilever bent as w(x) = d (3 x^2 L - x^3) / (2 L^3) less what it spans, the square
// root to second order, by Simpson's rule.
double shortening_m(double length, double lift) {
  const auto half_square = [&](double x) {
    const double slope = lift * (6.0 * x * length - 3.0 * x * x) / (2.0 * length * length * length);
    return 0.5 * slope * slope;
  };
  constexpr int steps = 1000;
  double sum = half_square(0.0) + half_square(length);
  for (int i = 1; i < steps; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * half_square(length * i / steps);
  return sum * length / steps / 3.0;
}

TEST(Lift, ATipDrawsBackByWhatItsArcIsLongerThanItsSpan) {
  for (const double length : {0.01, 0.02, 0.088})
    EXPECT_NEAR(box::draw_back_m(length, 0.0008) / shortening_m(length, 0.0008), 1.0, 1e-9);
  EXPECT_EQ(box::draw_back_m(endless, 0.0008), 0.0);
}

// Where the lift ends, overlap is used up by the point's arc and the tooth's shortening.
TEST(Lift, EndsWhereTheOverlapIsUsedUp) {
  std::mt19937 random(5);  // stream "lift"
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int i = 0; i < 2000; ++i) {
    const double r = 0.001 + 0.009 * share(random);
    const double overlap = r * (0.005 + 0.1 * share(random));
    const double length = 0.003 + 0.1 * share(random);
    const double most = std::sqrt(overlap * (2.0 * r - overlap));
    const double level = (2.0 * share(random) - 1.0) * 0.9 * most;
    const double lift = box::lift_m(r, overlap, length, level);
    const double angle = box::slip_rad(r, overlap, length, level);
    EXPECT_NEAR(r * std::sin(angle) + level, lift, 1e-15);
    EXPECT_NEAR(r * (1.0 - std::cos(angle)) + shortening_m(length, lift), overlap, 1e-9 * r)
        << r << " " << overlap << " " << length << " " << level;
    EXPECT_LE(lift, std::sqrt(overlap * (2.0 * r - overlap)) + std::max(0.0, level) + 1e-12);
  }
}

// The limit of a tooth without end is the height of the chord (Pythagoras).
TEST(Lift, OfAnEndlessToothIsTheHeightOfTheChord) {
  EXPECT_NEAR(box::lift_m(0.004, 0.0001, endless, 0.0), 0.001 * std::sqrt(0.79), 1e-12);
  EXPECT_NEAR(box::lift_m(0.004, 0.0001, 1e6, 0.0), 0.001 * std::sqrt(0.79), 1e-9);
}

TEST(Strike, LiftGrowsFromNothingToWhereTheToothIsLetGo) {
  for (const double level : {-0.0002, 0.0, 0.0003}) {
    box::Box box = pair_box();
    box.combs[0].level_m = level;
    const Strike s = strike_of(box);
    EXPECT_NEAR(s.lift_at_m(s.meet_rad + 1e-9), 0.0, 1e-11);
    EXPECT_EQ(s.lift_at_m(s.meet_rad - 1e-6), 0.0);
    EXPECT_EQ(s.lift_at_m(s.slip_rad + 1e-6), 0.0);
    EXPECT_NEAR(s.lift_at_m(s.slip_rad), s.lift_m, 1e-12);
    double before = 0.0;
    for (int i = 1; i <= 1000; ++i) {
      const double lift = s.lift_at_m(std::lerp(s.meet_rad, s.slip_rad, i / 1000.0));
      EXPECT_GE(lift, before - 1e-15);
      EXPECT_LT(lift - before, 3e-6) << "a jump at step " << i;
      before = lift;
    }
  }
}

// Thin points with a tooth level with the axis: met when level, lifted by r sin a (geometry).
TEST(Strike, OfThinPointsIsTheSineOfTheAngle) {
  box::Box box = pair_box();
  box.star_wheel.tip_rounding_m = 0.0;
  box.star_wheel.flank_rad = 0.0;
  const Strike s = strike_of(box);
  EXPECT_NEAR(s.meet_rad, 0.0, 1e-12);
  EXPECT_NEAR(s.lift_at_m(0.1), 0.004 * std::sin(0.1), 1e-12);
}

// Turned by half a turn about the axis, one side is the other: with an even number of points both
// teeth of a pair are let go at once, with an odd one half a pitch apart.
TEST(Strike, PairsAreLetGoTogetherByEvenWheelsOnly) {
  for (const int points : {6, 8, 10, 12}) {
    const box::Box box = pair_box(points);
    EXPECT_NEAR(strike_of(box, 0).slip_rad, strike_of(box, 1).slip_rad, 1e-12) << points;
  }
  for (const int points : {7, 9, 11}) {
    const box::Box box = pair_box(points);
    const double apart = strike_of(box, 0).slip_rad - strike_of(box, 1).slip_rad;
    EXPECT_NEAR(std::abs(apart), std::numbers::pi / points, 1e-12) << points;
  }
}

// A comb set towards the points that come is met sooner and lifted further.
TEST(Strike, LevelIsCountedAgainstTheWayOfThePoints) {
  for (const std::size_t comb : {0U, 1U}) {
    box::Box box = pair_box();
    const Strike level = strike_of(box, comb);
    box.combs[comb].level_m = 0.0001;
    const Strike nearer = strike_of(box, comb);
    EXPECT_LT(nearer.meet_rad, level.meet_rad);
    EXPECT_NEAR(nearer.lift_m - level.lift_m, 0.00009, 1e-5);
  }
}

// A waiting point as far before the level as the tooth was lifted past it, thin and the tooth
// endless: both stand on one circle, mirrored, so that the ringing tooth just grazes the tip.
TEST(Strike, ARingingToothJustClearsAPointThatWaitsAsFarOnTheOtherSide) {
  box::Box box = pair_box();
  box.star_wheel.tip_rounding_m = 0.0;
  box.star_wheel.flank_rad = 0.0;
  for (box::Comb& comb : box.combs) comb.longest_tooth_m = comb.shortest_tooth_m = 1e9;
  const Strike s = strike_of(box);
  const double slip = s.slip_rad - s.level_rad;
  EXPECT_NEAR(s.air_to_waiting_m(s.level_rad - slip), 0.0, 1e-9);
  EXPECT_GT(s.air_to_waiting_m(s.level_rad - slip - 0.01), 1e-6);
  EXPECT_LT(s.air_to_waiting_m(s.level_rad - slip + 0.01), -1e-6);
}

bool tells_of(const Findings& findings, Level level, const std::string& words) {
  for (const Finding& finding : findings)
    if (finding.level == level && finding.what.find(words) != std::string::npos) return true;
  return false;
}

Findings found(const box::Box& box) {
  return findings(box, action(box, 60.0));
}

TEST(ActionFindings, ABoxInOrderHasNone) {
  const Findings none = found(pair_box());
  for (const Finding& finding : none) ADD_FAILURE() << finding.where << ": " << finding.what;
}

TEST(ActionFindings, PairsOfOddWheels) {
  EXPECT_TRUE(tells_of(found(pair_box(9)), Level::warning, "are let go up to"));
}

TEST(ActionFindings, DampersThatNeverTouchOrStayOn) {
  box::Box box = pair_box();
  box.damper.reach_m = 0.0001;
  EXPECT_TRUE(tells_of(found(box), Level::fault, "before it has gone through its gap"));
  box.damper.reach_m = 0.0025;
  EXPECT_TRUE(tells_of(found(box), Level::fault, "still on the tooth"));
}

TEST(ActionFindings, TeethThatKnockAgainstTheWaitingPointAndWhatWouldHelp) {
  box::Box box = pair_box();
  box.projection.height_m = 0.0015;
  const Findings told = found(box);
  ASSERT_TRUE(tells_of(told, Level::warning, "knocks against the point"));
  for (const Finding& finding : told) {
    if (finding.what.find("knocks") == std::string::npos) continue;
    const std::string number = finding.remedy.substr(finding.remedy.find("projections ") + 12);
    box.projection.height_m = std::stod(number) * 1e-3;
  }
  EXPECT_FALSE(tells_of(found(box), Level::warning, "knocks"));
  box.projection.height_m += 2e-5;
  EXPECT_TRUE(tells_of(found(box), Level::warning, "knocks"));
}

TEST(ActionFindings, ATallToothOverlapIsNotLetGo) {
  box::Box box = pair_box();
  box.star_wheel.tooth_overlap_m = 0.0012;
  EXPECT_TRUE(tells_of(found(box), Level::fault, "before the tooth is let go"));
}

}  // namespace
}  // namespace combwright::action
