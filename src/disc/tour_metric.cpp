// SPDX-License-Identifier: Apache-2.0
#include "disc/tour_metric.h"

#include <algorithm>
#include <utility>

#include "disc/turning.h"

namespace combwright::disc::tour {
namespace {

constexpr std::size_t most_rows_in_table = 512;  // 2 MB

}  // namespace

PunchMetric::PunchMetric(box::Punch punch, const std::vector<TourStop>& stops)
    : punch_(std::move(punch)) {
  for (const TourStop& stop : stops) {
    radius_.push_back(stop.radius_m);
    angle_.push_back(within_one_turn(stop.angle_rad));
  }
  std::sort(radius_.begin(), radius_.end());
  radius_.erase(std::unique(radius_.begin(), radius_.end()), radius_.end());
  for (const TourStop& stop : stops) {
    const auto row = std::lower_bound(radius_.begin(), radius_.end(), stop.radius_m);
    row_.push_back(static_cast<std::uint32_t>(row - radius_.begin()));
  }
  if (radius_.size() > most_rows_in_table) return;
  for (std::uint32_t a = 0; a < radius_.size(); ++a) {
    for (std::uint32_t b = 0; b < radius_.size(); ++b) table_.push_back(radial_time_s(a, b));
  }
}

}  // namespace combwright::disc::tour
