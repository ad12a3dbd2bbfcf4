// SPDX-License-Identifier: Apache-2.0
#include "disc/tour.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "base/angle.h"
#include "disc/tour_bound.h"
#include "disc/tour_metric.h"
#include "disc/tour_neighbours.h"
#include "disc/tour_search.h"
#include "disc/tour_start.h"

namespace combwright::disc {
namespace {

using tour::PunchMetric;
using tour::Stop;

constexpr std::size_t fewest_to_search = 5;
constexpr std::size_t neighbours_each = 8;

// The 1-tree bound looks at all pairs of stops: twice up to here, once up to there, never beyond.
constexpr std::size_t most_for_two_proofs = 5'000;
constexpr std::size_t most_for_one_proof = 25'000;
constexpr int steps_for_each_proof = 80;

double closed_length(const PunchMetric& metric, const std::vector<Stop>& order) {
  double sum = 0.0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    sum += metric(order[i], order[(i + 1) % order.size()]);
  }
  return sum;
}

// The best of all tours, tried one by one.
std::vector<Stop> best_of_all(const PunchMetric& metric) {
  std::vector<Stop> order(metric.size());
  std::iota(order.begin(), order.end(), Stop{0});
  std::vector<Stop> best = order;
  while (order.size() > 3 && std::next_permutation(order.begin() + 1, order.end())) {
    if (closed_length(metric, order) < closed_length(metric, best)) best = order;
  }
  return best;
}

double angle_from_start_line(double angle) {
  return std::abs(std::remainder(angle, two_pi));
}

// Closed, so it may start anywhere: at the stop nearest to the start line, the innermost of
// several.
void start_at_start_line(std::vector<Stop>& order, const std::vector<TourStop>& stops) {
  const auto key = [&](Stop stop) {
    return std::tuple(angle_from_start_line(stops[stop].angle_rad), stops[stop].radius_m, stop);
  };
  const auto first =
      std::min_element(order.begin(), order.end(), [&](Stop a, Stop b) { return key(a) < key(b); });
  std::rotate(order.begin(), first, order.end());
}

double lower_bound(const PunchMetric& metric, const tour::Neighbours& neighbours,
                   const std::vector<Stop>& order, double length) {
  const std::size_t n = metric.size();
  if (n > most_for_one_proof) return tour::two_nearest_bound(neighbours);
  const int proofs = n <= most_for_two_proofs ? 2 : 1;
  return tour::OneTreeBound(metric, neighbours, order, length).ascend(proofs, steps_for_each_proof);
}

}  // namespace

double move_time_s(const box::Punch& punch, const TourStop& from, const TourStop& to) {
  return PunchMetric(punch, {from, to})(0, 1);
}

TourResult punch_tour(const box::Punch& punch, const std::vector<TourStop>& stops,
                      const TourOptions& options) {
  assert(options.effort >= 0);
  if (stops.empty()) return {};
  const PunchMetric metric(punch, stops);
  std::vector<Stop> order;
  TourResult result;
  if (stops.size() < fewest_to_search) {
    order = best_of_all(metric);
    result.length_s = closed_length(metric, order);
    result.bound_s = result.length_s;
  } else {
    const tour::Neighbours neighbours = tour::find_neighbours(metric, neighbours_each);
    tour::Search search(metric, neighbours, tour::greedy_tour(metric, neighbours), options.seed);
    search.run(static_cast<std::uint64_t>(options.effort) * stops.size());
    order = search.order();
    result.length_s = closed_length(metric, order);
    result.bound_s = lower_bound(metric, neighbours, order, result.length_s);
  }
  start_at_start_line(order, stops);
  result.order.assign(order.begin(), order.end());
  return result;
}

}  // namespace combwright::disc
