// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <deque>
#include <random>
#include <span>
#include <vector>

#include "disc/tour_array.h"
#include "disc/tour_neighbours.h"

namespace combwright::disc::tour {

// Iterated 3-exchange: every improving sequential exchange of two or three moves along the
// neighbour lists (Lin 1965; Lin & Kernighan 1973), then small double bridges (Martin, Otto &
// Felten 1991), each repaired locally and kept unless it made the tour longer.
template <class Metric>
class Search {
 public:
  // Requires at least 5 stops.
  Search(const Metric& metric, const Neighbours& neighbours, std::vector<Stop> start,
         std::uint64_t seed)
      : metric_(metric),
        neighbours_(neighbours),
        tour_(std::move(start)),
        queued_(metric.size(), false),
        random_(seed) {
    least_gain_ = 1e-10 * length() / static_cast<double>(metric.size());
    for (const Stop stop : tour_.order()) enqueue(stop);
  }

  // Looks for improvements from `attempts` stops.
  void run(std::uint64_t attempts) {
    attempts_left_ = attempts;
    settle();
    tour_.commit();
    while (attempts_left_ > 0) {
      double gained = kick();
      gained += settle();
      if (gained < -least_gain_) tour_.roll_back();
      tour_.commit();
    }
  }

  const std::vector<Stop>& order() const { return tour_.order(); }

  double length() const {
    double sum = 0.0;
    Stop last = order().back();
    for (const Stop stop : order()) {
      sum += metric_(last, stop);
      last = stop;
    }
    return sum;
  }

 private:
  static constexpr std::size_t longest_kick = 50;  // stops in one stretch of a double bridge

  void enqueue(Stop stop) {
    if (queued_[stop]) return;
    queued_[stop] = true;
    queue_.push_back(stop);
  }

  // Improves from every queued stop until none is left; gives what was gained.
  double settle() {
    double gained = 0.0;
    while (!queue_.empty()) {
      const Stop stop = queue_.front();
      queue_.pop_front();
      queued_[stop] = false;
      for (double gain = 1.0; gain > 0.0;) {
        if (attempts_left_ > 0) --attempts_left_;
        gain = improve(stop, true);
        if (gain == 0.0) gain = improve(stop, false);
        gained += gain;
      }
    }
    return gained;
  }

  Stop after(Stop stop, bool forward) const {
    return forward ? tour_.next(stop) : tour_.previous(stop);
  }
  bool within(Stop stop, Stop from, Stop to, bool forward) const {
    return forward ? tour_.stretch(from, stop) <= tour_.stretch(from, to)
                   : tour_.stretch(stop, from) <= tour_.stretch(to, from);
  }
  std::span<const Neighbour> near(Stop stop) const {
    return {neighbours_.begin(stop), neighbours_.end(stop)};
  }

  // Replaces the move t1-t2, where t2 comes after t1. t2..t1 is then a path to be closed again:
  // t2 gets its new neighbour t3, which gives up the move to t4.
  double improve(Stop t1, bool forward) {
    const Stop t2 = after(t1, forward);
    const double removed = metric_(t1, t2);
    for (const auto& [t3, d23] : near(t2)) {
      const double gain = removed - d23;
      if (gain <= least_gain_) break;
      if (t3 == t1) continue;
      if (const double won = via_before({t1, t2, t3, after(t3, !forward)}, gain, forward);
          won > 0) {
        return won;
      }
      if (const double won = via_after({t1, t2, t3, after(t3, forward)}, gain, forward); won > 0) {
        return won;
      }
    }
    return 0.0;
  }

  // t4 before t3: closing t4-t1 is an exchange of two moves; or go on from t4.
  double via_before(std::array<Stop, 4> t, double gain, bool forward) {
    const auto [t1, t2, t3, t4] = t;
    if (t4 == t2) return 0.0;
    gain += metric_(t3, t4);
    const double closed = gain - metric_(t4, t1);
    if (closed > least_gain_) {
      tour_.exchange(t1, t2, t4, t3);
      touch({t1, t2, t3, t4});
      return closed;
    }
    for (const auto& [t5, d45] : near(t4)) {
      const double open = gain - d45;
      if (open <= least_gain_) break;
      // The path is now t4..t2 (turned round), t3..t1.
      if (t5 == t3 || t5 == t1) continue;
      const bool turned = within(t5, t2, t4, forward);
      const Stop t6 = after(t5, forward == turned);
      if (t6 == t4) continue;
      const double won = open + metric_(t5, t6) - metric_(t6, t1);
      if (won > least_gain_) {
        tour_.exchange(t1, t2, t4, t3);
        tour_.exchange(t1, t4, t6, t5);
        touch({t1, t2, t3, t4, t5, t6});
        return won;
      }
    }
    return 0.0;
  }

  // t4 after t3: t2..t3 is then a ring, which must be opened at t5-t6 and joined to t4.
  double via_after(std::array<Stop, 4> t, double gain, bool forward) {
    const auto [t1, t2, t3, t4] = t;
    gain += metric_(t3, t4);
    for (const auto& [t5, d45] : near(t4)) {
      const double open = gain - d45;
      if (open <= least_gain_) break;
      if (!within(t5, t2, t3, forward)) continue;
      if (t5 != t3) {
        const Stop t6 = after(t5, forward);
        const double won = open + metric_(t5, t6) - metric_(t6, t1);
        if (won > least_gain_) {
          tour_.swap_stretches(t1, t2, t5, t6, t3, t4);
          touch({t1, t2, t3, t4, t5, t6});
          return won;
        }
      }
      if (t5 != t2) {
        const Stop t6 = after(t5, !forward);
        const double won = open + metric_(t5, t6) - metric_(t6, t1);
        if (won > least_gain_) {
          tour_.exchange(t1, t2, t6, t5);
          tour_.exchange(t2, t5, t3, t4);
          touch({t1, t2, t3, t4, t5, t6});
          return won;
        }
      }
    }
    return 0.0;
  }

  void touch(std::initializer_list<Stop> stops) {
    for (const Stop stop : stops) enqueue(stop);
  }

  // Below `count`. (std::uniform_int_distribution differs from library to library.)
  std::size_t random_below(std::size_t count) {
    return static_cast<std::size_t>(((random_() >> 32) * count) >> 32);
  }

  // Double bridge of three short stretches in a row: their order is turned round, each keeps its
  // direction. Gives what was gained, mostly less than nothing.
  double kick() {
    const std::size_t n = tour_.size();
    const std::size_t longest = std::min(longest_kick, (n - 2) / 3);
    std::array<Stop, 8> t{};
    std::size_t place = random_below(n);
    for (std::size_t i = 0; i < 8; ++i) {
      t[i] = tour_.at(place % n);
      place += i % 2 == 0 ? 1 : random_below(longest);
    }
    return kick(t);
  }

  double kick(const std::array<Stop, 8>& t) {
    const auto [a, b, c, d, e, f, g, h] = t;
    const double before = metric_(a, b) + metric_(c, d) + metric_(e, f) + metric_(g, h);
    const double afterwards = metric_(a, f) + metric_(g, d) + metric_(e, b) + metric_(c, h);
    tour_.swap_stretches(a, b, c, d, e, f);
    tour_.swap_stretches(a, d, c, f, g, h);
    touch({a, b, c, d, e, f, g, h});
    return before - afterwards;
  }

  const Metric& metric_;
  const Neighbours& neighbours_;
  TourArray tour_;
  std::vector<bool> queued_;
  std::deque<Stop> queue_;
  std::mt19937_64 random_;
  double least_gain_ = 0.0;
  std::uint64_t attempts_left_ = 0;
};

}  // namespace combwright::disc::tour
