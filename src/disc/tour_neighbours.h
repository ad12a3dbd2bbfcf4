// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

#include "disc/tour_metric.h"

namespace combwright::disc::tour {

struct Neighbour {
  Stop stop = 0;
  double distance = 0.0;
};

// The `each` nearest stops of every stop, nearest first, in one flat array.
struct Neighbours {
  std::size_t each = 0;
  std::vector<Neighbour> list;

  const Neighbour* begin(Stop stop) const { return list.data() + stop * each; }
  const Neighbour* end(Stop stop) const { return begin(stop) + each; }
};

// Keeps the nearest stops seen so far, in order.
class NearestSoFar {
 public:
  explicit NearestSoFar(std::size_t most) : most_(most) {}

  bool full() const { return kept_.size() == most_; }
  double farthest() const { return kept_.back().distance; }
  const std::vector<Neighbour>& kept() const { return kept_; }
  void clear() { kept_.clear(); }
  void offer(Neighbour candidate) {
    if (full() && candidate.distance >= farthest()) return;
    if (full()) kept_.pop_back();
    const auto nearer = [](const Neighbour& a, const Neighbour& b) {
      return a.distance < b.distance;
    };
    kept_.insert(std::upper_bound(kept_.begin(), kept_.end(), candidate, nearer), candidate);
  }

 private:
  std::size_t most_;
  std::vector<Neighbour> kept_;
};

// Exact nearest neighbours: sweeps from each stop outwards along the sorted coordinate until that
// coordinate alone is farther than the worst neighbour kept.
template <class Metric>
Neighbours find_neighbours(const Metric& metric, std::size_t most) {
  const std::size_t n = metric.size();
  Neighbours result{n == 0 ? 0 : std::min(most, n - 1), {}};
  result.list.reserve(n * result.each);
  std::vector<Stop> sorted(n);
  std::iota(sorted.begin(), sorted.end(), Stop{0});
  std::sort(sorted.begin(), sorted.end(), [&](Stop a, Stop b) {
    return std::pair(metric.sweep_key(a), a) < std::pair(metric.sweep_key(b), b);
  });
  std::vector<std::size_t> rank(n);
  for (std::size_t i = 0; i < n; ++i) rank[sorted[i]] = i;

  NearestSoFar nearest(result.each);
  for (Stop stop = 0; stop < n; ++stop) {
    nearest.clear();
    const auto too_far = [&](Stop other) {
      return nearest.full() && metric.sweep_time(stop, other) >= nearest.farthest();
    };
    std::size_t below = rank[stop];
    std::size_t above = rank[stop] + 1;
    bool down = true;
    bool up = true;
    while (down || up) {
      down = down && below > 0 && !too_far(sorted[below - 1]);
      if (down) {
        const Stop other = sorted[--below];
        nearest.offer({other, metric(stop, other)});
      }
      up = up && above < n && !too_far(sorted[above]);
      if (up) {
        const Stop other = sorted[above++];
        nearest.offer({other, metric(stop, other)});
      }
    }
    result.list.insert(result.list.end(), nearest.kept().begin(), nearest.kept().end());
  }
  return result;
}

}  // namespace combwright::disc::tour
