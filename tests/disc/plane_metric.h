// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <vector>

#include "disc/tour_metric.h"

namespace combwright::disc::testing {

// Straight distances in the plane, for which tours with known length are published.
struct PlaneMetric {
  struct Point {
    double x = 0.0;
    double y = 0.0;
  };
  std::vector<Point> points;

  std::size_t size() const { return points.size(); }
  double operator()(tour::Stop a, tour::Stop b) const {
    return std::hypot(points[a].x - points[b].x, points[a].y - points[b].y);
  }
  double sweep_key(tour::Stop a) const { return points[a].x; }
  double sweep_time(tour::Stop a, tour::Stop b) const {
    return std::abs(points[a].x - points[b].x);
  }
};

}  // namespace combwright::disc::testing
