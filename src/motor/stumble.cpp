// SPDX-License-Identifier: Apache-2.0
#include "motor/stumble.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"

namespace combwright::motor {

double heard_s(double interval_s) {
  constexpr double short_interval_s = 0.240;
  return interval_s < short_interval_s ? 0.006 : 0.025 * interval_s;
}

std::optional<Stumble> worst_stumble(const Machine& machine, int turn, double even_turn_s,
                                     const std::vector<PluckLoad>& plucks) {
  std::vector<double> places;
  places.reserve(plucks.size());
  for (const PluckLoad& pluck : plucks) places.push_back(pluck.release_rad);
  std::sort(places.begin(), places.end());
  const std::vector<double> times = times_in_turn(machine, turn, places);
  std::optional<Stumble> worst;
  double most = -1.0;
  for (std::size_t i = 1; i < times.size(); ++i) {
    const double even = (places[i] - places[i - 1]) * even_turn_s / two_pi;
    const double late = times[i] - times[i - 1] - even;
    const double share = std::abs(late) / heard_s(even);
    if (share <= most) continue;
    most = share;
    worst = Stumble{places[i], places[i - 1], even, late};
  }
  return worst;
}

}  // namespace combwright::motor
