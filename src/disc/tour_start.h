// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <numeric>
#include <optional>
#include <span>
#include <tuple>
#include <vector>

#include "disc/tour_neighbours.h"

namespace combwright::disc::tour {

// Disjoint sets of stops (Tarjan 1975, with path halving).
class Components {
 public:
  explicit Components(std::size_t count) : parent_(count) {
    std::iota(parent_.begin(), parent_.end(), Stop{0});
  }
  Stop find(Stop stop) {
    while (parent_[stop] != stop) stop = parent_[stop] = parent_[parent_[stop]];
    return stop;
  }
  void unite(Stop a, Stop b) { parent_[find(a)] = find(b); }

 private:
  std::vector<Stop> parent_;
};

// Chains of stops being grown into a tour: every stop has at most two links.
class Chains {
 public:
  explicit Chains(std::size_t count) : links_(count), components_(count) {}

  bool can_link(Stop a, Stop b) {
    return links_[a].size() < 2 && links_[b].size() < 2 &&
           components_.find(a) != components_.find(b);
  }
  void link(Stop a, Stop b) {
    links_[a].push_back(b);
    links_[b].push_back(a);
    components_.unite(a, b);
  }
  const std::vector<Stop>& links(Stop stop) const { return links_[stop]; }

 private:
  std::vector<std::vector<Stop>> links_;
  Components components_;
};

// Greedy tour (Bentley 1992): the shortest neighbour links first, as long as they make chains;
// then the chains one after another, always to the nearest free end.
template <class Metric>
std::vector<Stop> greedy_tour(const Metric& metric, const Neighbours& neighbours) {
  const Stop n = static_cast<Stop>(metric.size());
  std::vector<std::tuple<double, Stop, Stop>> edges;
  for (Stop a = 0; a < n; ++a) {
    for (const Neighbour& near : std::span(neighbours.begin(a), neighbours.end(a))) {
      edges.emplace_back(near.distance, std::min(a, near.stop), std::max(a, near.stop));
    }
  }
  std::sort(edges.begin(), edges.end());
  Chains chains(n);
  for (const auto& [distance, a, b] : edges) {
    if (chains.can_link(a, b)) chains.link(a, b);
  }

  std::vector<Stop> ends;
  for (Stop stop = 0; stop < n; ++stop) {
    if (chains.links(stop).size() < 2) ends.push_back(stop);
  }
  std::vector<bool> visited(n, false);
  std::vector<Stop> order;
  order.reserve(n);
  const auto walk = [&](Stop end) {
    for (std::optional<Stop> stop = end; stop;) {
      visited[*stop] = true;
      order.push_back(*stop);
      const std::vector<Stop>& links = chains.links(*stop);
      const auto ahead =
          std::find_if(links.begin(), links.end(), [&](Stop link) { return !visited[link]; });
      stop = ahead == links.end() ? std::nullopt : std::optional(*ahead);
    }
  };
  walk(ends.front());
  while (order.size() < n) {
    std::erase_if(ends, [&](Stop end) { return visited[end]; });
    walk(*std::min_element(ends.begin(), ends.end(), [&](Stop a, Stop b) {
      return metric(order.back(), a) < metric(order.back(), b);
    }));
  }
  return order;
}

}  // namespace combwright::disc::tour
