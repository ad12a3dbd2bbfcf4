// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/angle.h"
#include "box/shop.h"
#include "disc/tour.h"

namespace combwright::disc::tour {

using Stop = std::uint32_t;  // index of a stop

// What the neighbour lists, the search and the bound ask of a metric M over stops 0..size()-1:
//   double operator()(Stop, Stop)     symmetric, not negative, the same digits on every call;
//   double sweep_key(Stop)            one coordinate of the stop;
//   double sweep_time(Stop, Stop)     never above the distance, rising with the difference in keys.
// The punch's is below; the tests add the plane's, whose best tours are published.

// Time of a move of one axis over `distance` from rest to rest: speed up, run, slow down; without
// the run when the distance is too short to reach full speed.
// (Constant acceleration, elementary mechanics.)
inline double axis_time_s(double distance, double speed, double acceleration) {
  const double to_full_speed = speed * speed / acceleration;  // and back to rest
  if (distance < to_full_speed) return 2.0 * std::sqrt(distance / acceleration);
  return distance / speed + speed / acceleration;
}

// Moves of the punch, as move_time_s in tour.h gives them.
class PunchMetric {
 public:
  PunchMetric(box::Punch punch, const std::vector<TourStop>& stops);

  std::size_t size() const { return angle_.size(); }
  double operator()(Stop a, Stop b) const {
    const double radial = sweep_time(a, b);
    const double rotary = rotary_time_s(angle_[a], angle_[b]);
    return radial > rotary ? radial : rotary;
  }
  double sweep_key(Stop a) const { return radius_[row_[a]]; }
  double sweep_time(Stop a, Stop b) const {
    return table_.empty() ? radial_time_s(row_[a], row_[b])
                          : table_[row_[a] * radius_.size() + row_[b]];
  }

 private:
  double radial_time_s(std::uint32_t row_a, std::uint32_t row_b) const {
    return axis_time_s(std::abs(radius_[row_a] - radius_[row_b]), punch_.radial_speed_m_s,
                       punch_.radial_acceleration_m_s2);
  }
  double rotary_time_s(double angle_a, double angle_b) const {
    const double one_way = std::abs(angle_a - angle_b);
    const double other_way = two_pi - one_way;
    return axis_time_s(one_way < other_way ? one_way : other_way, punch_.rotary_speed_rad_s,
                       punch_.rotary_acceleration_rad_s2);
  }

  box::Punch punch_;
  std::vector<double> radius_;      // each radius once, rising
  std::vector<std::uint32_t> row_;  // of each stop: its radius
  std::vector<double> angle_;       // of each stop, within one turn
  std::vector<double> table_;       // radial time from row to row; empty for very many rows
};

}  // namespace combwright::disc::tour
