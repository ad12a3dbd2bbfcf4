// SPDX-License-Identifier: Apache-2.0
#include "disc/tour.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <gtest/gtest.h>

#include "disc/plane_metric.h"
#include "disc/sample_box.h"
#include "disc/tour_array.h"
#include "disc/tour_neighbours.h"
#include "disc/tour_search.h"
#include "disc/tour_start.h"

namespace combwright::disc {
namespace {

using testing::PlaneMetric;
using testing::unit;
using tour::Stop;

using std::numbers::pi;
constexpr double degree = pi / 180.0;

std::vector<TourStop> random_stops(std::size_t count, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::vector<TourStop> stops;
  for (std::size_t i = 0; i < count; ++i) {
    stops.push_back({0.05 + 0.002 * std::floor(76.0 * unit(random)), 2 * pi * unit(random)});
  }
  return stops;
}

double length_of(const box::Punch& punch, const std::vector<TourStop>& stops,
                 const std::vector<std::size_t>& order) {
  double sum = 0.0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    sum += move_time_s(punch, stops[order[i]], stops[order[(i + 1) % order.size()]]);
  }
  return sum;
}

double best_by_trying_all(const box::Punch& punch, const std::vector<TourStop>& stops) {
  std::vector<std::size_t> order(stops.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  double best = length_of(punch, stops, order);
  while (std::next_permutation(order.begin() + 1, order.end())) {
    best = std::min(best, length_of(punch, stops, order));
  }
  return best;
}

double searched_length(const PlaneMetric& metric) {
  const tour::Neighbours neighbours = tour::find_neighbours(metric, 8);
  tour::Search search(metric, neighbours, tour::greedy_tour(metric, neighbours), 1);
  search.run(200 * metric.size());
  return search.length();
}

// Constant acceleration from rest, run, constant deceleration (elementary mechanics). The default
// punch: 50 mm/s and 500 mm/s2; 90 deg/s and 360 deg/s2.
TEST(MoveTime, LongRadialMoveIsTheRunAndOneRamp) {
  EXPECT_NEAR(move_time_s({}, {0.05, 0.0}, {0.07, 0.0}), 0.020 / 0.050 + 0.1, 1e-12);
}

TEST(MoveTime, ShortRadialMoveNeverReachesFullSpeed) {
  EXPECT_NEAR(move_time_s({}, {0.05, 0.0}, {0.052, 0.0}), 2.0 * std::sqrt(0.002 / 0.5), 1e-12);
}

TEST(MoveTime, TableTakesTheShorterWayRound) {
  EXPECT_NEAR(move_time_s({}, {0.05, 5 * degree}, {0.05, 355 * degree}), 1.0 / 3.0, 1e-12);
  EXPECT_NEAR(move_time_s({}, {0.05, 0.0}, {0.05, 270 * degree}), 1.25, 1e-12);
}

TEST(MoveTime, SlowerAxisCounts) {
  EXPECT_NEAR(move_time_s({}, {0.05, 0.0}, {0.052, 90 * degree}), 1.25, 1e-12);
  EXPECT_NEAR(move_time_s({}, {0.05, 0.0}, {0.07, 10 * degree}), 0.5, 1e-12);
}

// The speed that the axis may have at every moment, summed over the time of the move, must bring it
// there.
TEST(MoveTime, SpeedSummedOverTheMoveGivesTheDistance) {
  const box::Punch punch;
  for (const double distance : {0.0001, 0.003, 0.005, 0.0051, 0.03, 0.15}) {
    const double time = move_time_s(punch, {0.05, 0.0}, {0.05 + distance, 0.0});
    constexpr int steps = 100'000;
    double covered = 0.0;
    for (int i = 0; i < steps; ++i) {
      const double t = (i + 0.5) * time / steps;
      covered += std::min({punch.radial_acceleration_m_s2 * t, punch.radial_speed_m_s,
                           punch.radial_acceleration_m_s2 * (time - t)}) *
                 time / steps;
    }
    EXPECT_NEAR(covered, distance, 1e-8);
  }
}

TEST(PunchTour, OfUpToNineHitsIsTheBestOfAllTours) {
  for (std::size_t count = 1; count <= 9; ++count) {
    const int trials = count < 9 ? 20 : 4;
    for (int trial = 0; trial < trials; ++trial) {
      const auto stops = random_stops(count, 100 * count + static_cast<std::uint64_t>(trial));
      const double best = best_by_trying_all({}, stops);
      const TourResult result = punch_tour({}, stops);
      EXPECT_NEAR(result.length_s, best, 1e-9) << count << " hits, trial " << trial;
      EXPECT_LE(result.bound_s, best + 1e-12) << count << " hits, trial " << trial;
    }
  }
}

TEST(PunchTour, WithoutHitsIsEmpty) {
  const TourResult result = punch_tour({}, {});
  EXPECT_TRUE(result.order.empty());
  EXPECT_EQ(result.length_s, 0.0);
  EXPECT_EQ(result.bound_s, 0.0);
}

TEST(PunchTour, VisitsEveryHitOnceStartingAtTheStartLine) {
  auto stops = random_stops(500, 7);
  stops[123].angle_rad = 2 * pi - 1e-6;
  const TourResult result = punch_tour({}, stops, {.seed = 1, .effort = 20});
  EXPECT_EQ(result.order.front(), 123U);
  EXPECT_NEAR(result.length_s, length_of({}, stops, result.order), 1e-9);
  std::vector<std::size_t> sorted = result.order;
  std::sort(sorted.begin(), sorted.end());
  for (std::size_t i = 0; i < sorted.size(); ++i) ASSERT_EQ(sorted[i], i);
}

TEST(PunchTour, OfTwoThousandHitsIsWithinThreePerCentOfItsBound) {
  const TourResult result = punch_tour({}, random_stops(2000, 3), {.seed = 1, .effort = 100});
  EXPECT_LE(result.length_s, 1.03 * result.bound_s);
  EXPECT_GE(result.length_s, result.bound_s);
}

TEST(PunchTour, IsTheSameEveryTime) {
  const auto stops = random_stops(300, 11);
  const TourResult once = punch_tour({}, stops);
  const TourResult again = punch_tour({}, stops);
  EXPECT_EQ(once.order, again.order);
  EXPECT_EQ(once.length_s, again.length_s);
  EXPECT_EQ(once.bound_s, again.bound_s);
}

TEST(PunchTour, CopesWithHitsInOnePlaceAndOnOneTrack) {
  const TourResult one_place = punch_tour({}, std::vector<TourStop>(40, {0.1, 1.0}));
  EXPECT_EQ(one_place.length_s, 0.0);
  EXPECT_LE(one_place.bound_s, 0.0);
  auto stops = random_stops(200, 5);
  for (TourStop& stop : stops) stop.radius_m = 0.1;
  const TourResult one_track = punch_tour({}, stops);
  EXPECT_LE(one_track.bound_s, one_track.length_s);
  EXPECT_LE(one_track.length_s, 1.05 * one_track.bound_s);
}

// Geometry: with an even number of points a closed way along the grid's own lines uses only moves
// of one pitch, and none can be shorter.
TEST(TourSearch, EvenGridTakesOnePitchForEachPoint) {
  PlaneMetric grid;
  for (int x = 0; x < 12; ++x) {
    for (int y = 0; y < 11; ++y) grid.points.push_back({2.0 * x, 2.0 * y});
  }
  EXPECT_NEAR(searched_length(grid), 2.0 * 132, 1e-9);
}

// Geometry: points on a circle are best visited around it, N chords of 2 R sin(pi / N).
TEST(TourSearch, PointsOnACircleAreVisitedAroundIt) {
  PlaneMetric circle;
  for (int i = 0; i < 100; ++i) {
    const double angle = 2 * pi * (i * 37 % 100) / 100;
    circle.points.push_back({3.0 * std::cos(angle), 3.0 * std::sin(angle)});
  }
  EXPECT_NEAR(searched_length(circle), 2 * 100 * 3.0 * std::sin(pi / 100), 1e-9);
}

TEST(TourSearch, NeighbourListsHoldTheNearestOfAll) {
  const auto stops = random_stops(400, 13);
  const tour::PunchMetric metric({}, stops);
  const tour::Neighbours neighbours = tour::find_neighbours(metric, 8);
  for (Stop stop = 0; stop < metric.size(); ++stop) {
    std::vector<double> all;
    for (Stop other = 0; other < metric.size(); ++other) {
      if (other != stop) all.push_back(metric(stop, other));
    }
    std::sort(all.begin(), all.end());
    for (std::size_t i = 0; i < 8; ++i) {
      ASSERT_EQ(neighbours.begin(stop)[i].distance, all[i]);
      ASSERT_EQ(metric(stop, neighbours.begin(stop)[i].stop), all[i]);
    }
  }
}

TEST(TourArray, SwappedStretchesJoinAsTheirNameSaysAndCanBeTakenBack) {
  std::mt19937_64 random(17);
  std::vector<Stop> start(40);
  std::iota(start.begin(), start.end(), Stop{0});
  tour::TourArray array(start);
  for (int trial = 0; trial < 500; ++trial) {
    const std::vector<Stop> before = array.order();
    std::array<std::size_t, 3> cut{};
    for (std::size_t& at : cut) at = static_cast<std::size_t>(unit(random) * 40);
    std::sort(cut.begin(), cut.end());
    if (cut[0] == cut[1] || cut[1] == cut[2]) continue;
    const auto [a, c, e] = std::tuple(before[cut[0]], before[cut[1]], before[cut[2]]);
    const auto [b, d, f] = std::tuple(array.next(a), array.next(c), array.next(e));
    if (trial % 2 == 0) {
      array.swap_stretches(a, b, c, d, e, f);
    } else {  // the same read backwards
      array.swap_stretches(f, e, d, c, b, a);
    }
    const auto joined = [&](Stop p, Stop q) { return array.next(p) == q || array.next(q) == p; };
    EXPECT_TRUE(joined(a, d) && joined(e, b) && joined(c, f)) << "trial " << trial;
    array.roll_back();
    ASSERT_EQ(array.order(), before);
    array.exchange(a, b, c, d);
    EXPECT_TRUE(joined(a, c) && joined(b, d)) << "trial " << trial;
    array.commit();
  }
}

}  // namespace
}  // namespace combwright::disc
