// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <queue>
#include <span>
#include <utility>
#include <vector>

#include "disc/tour_neighbours.h"

namespace combwright::disc::tour {

// Half of what every stop is away from its two nearest: no closed tour is shorter, for it has two
// moves at every stop. Requires at least 2 neighbours of each stop.
inline double two_nearest_bound(const Neighbours& neighbours) {
  double sum = 0.0;
  double compared = 0.0;
  for (std::size_t first = 0; first < neighbours.list.size(); first += neighbours.each) {
    sum += neighbours.list[first].distance + neighbours.list[first + 1].distance;
    ++compared;
  }
  const double rounding = sum * 2.0 * compared * std::numeric_limits<double>::epsilon();
  return 0.5 * (sum - rounding);
}

// Lower bound on any closed tour by 1-trees (Held & Karp 1970, 1971): with a weight pi on every
// stop, the least 1-tree under d + pi + pi, less twice the weights, is never above the best tour.
// The weights are found by subgradient steps on a sparse graph, where a tree is quick but proves
// nothing; the bound itself is a least 1-tree of the complete graph.
template <class Metric>
class OneTreeBound {
 public:
  // Requires at least 3 stops; `tour` is a good tour, `length` its length.
  OneTreeBound(const Metric& metric, const Neighbours& neighbours, const std::vector<Stop>& tour,
               double length)
      : metric_(metric),
        n_(static_cast<Stop>(metric.size())),
        length_(length),
        weight_(n_, 0.0),
        graph_(n_) {
    for (Stop a = 0; a < n_; ++a) {
      for (const Neighbour& near : std::span(neighbours.begin(a), neighbours.end(a))) {
        add_edge(a, near.stop, near.distance);
      }
    }
    for (std::size_t i = 0; i < n_; ++i) {
      const Stop next = tour[(i + 1) % n_];
      add_edge(tour[i], next, metric(tour[i], next));
    }
  }

  // `rounds` times `steps` subgradient steps and one proof.
  double ascend(int rounds, int steps) {
    double best = 0.0;
    for (int round = 0; round < rounds; ++round) {
      climb(steps);
      best = std::max(best, prove());
    }
    return best;
  }

 private:
  // A spanning tree grown from stop 0 by Prim's rule: of each other stop, the stop it hangs on and
  // the weighted distance to it.
  struct Tree {
    std::vector<Stop> parent;
    std::vector<double> cost;
  };
  struct OneTree {
    std::vector<int> degree;
    double length = 0.0;    // under the weights, less twice their sum
    double rounding = 0.0;  // `length` is not off by more than this
  };

  void add_edge(Stop a, Stop b, double distance) {
    const auto known = [&](const Neighbour& edge) { return edge.stop == b; };
    if (std::any_of(graph_[a].begin(), graph_[a].end(), known)) return;
    graph_[a].push_back({b, distance});
    graph_[b].push_back({a, distance});
  }

  Tree bare_tree() const { return {std::vector<Stop>(n_, 0), std::vector<double>(n_, infinite)}; }

  Tree sparse_tree() const {
    using Entry = std::pair<double, Stop>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> heap;
    std::vector<char> done(n_, 0);
    Tree tree = bare_tree();
    tree.cost[0] = 0.0;
    heap.emplace(0.0, 0);
    while (!heap.empty()) {
      const Stop at = heap.top().second;
      heap.pop();
      if (done[at]) continue;
      done[at] = 1;
      for (const auto& [to, distance] : graph_[at]) {
        if (done[to]) continue;
        const double length = distance + weight_[at] + weight_[to];
        if (length >= tree.cost[to]) continue;
        tree.cost[to] = length;
        tree.parent[to] = at;
        heap.emplace(length, to);
      }
    }
    return tree;
  }

  Tree complete_tree() const {
    Tree tree = bare_tree();
    tree.cost[0] = 0.0;
    std::vector<Stop> open(n_ - 1);
    std::iota(open.begin(), open.end(), Stop{1});
    Stop at = 0;
    while (!open.empty()) {
      std::size_t nearest = 0;
      for (std::size_t i = 0; i < open.size(); ++i) {
        const Stop to = open[i];
        const double length = metric_(at, to) + weight_[at] + weight_[to];
        if (length < tree.cost[to]) {
          tree.cost[to] = length;
          tree.parent[to] = at;
        }
        if (tree.cost[to] < tree.cost[open[nearest]]) nearest = i;
      }
      at = open[nearest];
      open[nearest] = open.back();
      open.pop_back();
    }
    return tree;
  }

  // The tree with one more edge at one of its leaves: a least 1-tree, for that leaf hangs on its
  // nearest stop and the rest is a least tree of the rest. Of all leaves, the one that adds most.
  // `second_nearest(leaf, hangs_on)` gives the stop nearest to the leaf but for the one it hangs
  // on.
  template <class SecondNearest>
  OneTree with_ring(const Tree& tree, const SecondNearest& second_nearest) const {
    OneTree result{std::vector<int>(n_, 0), 0.0, 0.0};
    double magnitude = 0.0;
    const auto add = [&](double term) {
      result.length += term;
      magnitude += std::abs(term);
    };
    Stop child_of_root = 0;
    for (Stop stop = 1; stop < n_; ++stop) {
      add(tree.cost[stop]);
      ++result.degree[stop];
      ++result.degree[tree.parent[stop]];
      if (tree.parent[stop] == 0) child_of_root = stop;
    }
    Neighbour ring{0, -infinite};
    Stop ring_leaf = 0;
    for (Stop stop = 0; stop < n_; ++stop) {
      add(-2.0 * weight_[stop]);
      if (result.degree[stop] != 1) continue;
      const Neighbour edge = second_nearest(stop, stop == 0 ? child_of_root : tree.parent[stop]);
      if (edge.distance > ring.distance) {
        ring = edge;
        ring_leaf = stop;
      }
    }
    add(ring.distance);
    ++result.degree[ring_leaf];
    ++result.degree[ring.stop];
    // 2n sums are rounded once and n weighted distances twice, by half an epsilon each, and so are
    // the distances that the least tree was chosen by: 8n epsilons are ample for all of it.
    result.rounding =
        magnitude * 8.0 * static_cast<double>(n_ + 2) * std::numeric_limits<double>::epsilon();
    return result;
  }

  OneTree sparse_one_tree() const {
    return with_ring(sparse_tree(), [&](Stop leaf, Stop hangs_on) {
      Neighbour best{hangs_on, infinite};
      for (const auto& [to, distance] : graph_[leaf]) {
        const double length = distance + weight_[leaf] + weight_[to];
        if (to != hangs_on && length < best.distance) best = {to, length};
      }
      return best;
    });
  }

  // Subgradient steps after Polyak (1969): towards the length of the known tour, by a factor that
  // is halved when the bound stops rising.
  void climb(int steps) {
    std::vector<double> best_weight = weight_;
    double best = -infinite;
    double factor = first_factor;
    int since_best = 0;
    std::vector<int> last_slope(n_, 0);
    for (int step = 0; step < steps; ++step) {
      const OneTree tree = sparse_one_tree();
      if (tree.length > best) {
        best = tree.length;
        best_weight = weight_;
        since_best = 0;
      } else if (++since_best == patience) {
        factor *= 0.5;
        since_best = 0;
      }
      double square = 0.0;
      for (const int degree : tree.degree) square += (degree - 2) * (degree - 2);
      if (square == 0.0) break;  // the 1-tree is a tour, and so the best one
      const double size = factor * std::max(length_ - tree.length, 0.0) / square;
      for (Stop stop = 0; stop < n_; ++stop) {
        const int slope = tree.degree[stop] - 2;
        weight_[stop] += size * (0.7 * slope + 0.3 * last_slope[stop]);
        last_slope[stop] = slope;
      }
    }
    weight_ = best_weight;
  }

  // The bound proper. What the sparse graph lacked is added to it for the next climb.
  double prove() {
    const Tree tree = complete_tree();
    for (Stop stop = 1; stop < n_; ++stop) {
      add_edge(stop, tree.parent[stop], metric_(stop, tree.parent[stop]));
    }
    const OneTree one_tree = with_ring(tree, [&](Stop leaf, Stop hangs_on) {
      Neighbour best{hangs_on, infinite};
      for (Stop to = 0; to < n_; ++to) {
        if (to == leaf || to == hangs_on) continue;
        const double length = metric_(leaf, to) + weight_[leaf] + weight_[to];
        if (length < best.distance) best = {to, length};
      }
      return best;
    });
    return one_tree.length - one_tree.rounding;
  }

  static constexpr double infinite = std::numeric_limits<double>::infinity();
  static constexpr double first_factor = 1.0;
  static constexpr int patience = 10;

  const Metric& metric_;
  Stop n_;
  double length_;
  std::vector<double> weight_;
  std::vector<std::vector<Neighbour>> graph_;
};

}  // namespace combwright::disc::tour
