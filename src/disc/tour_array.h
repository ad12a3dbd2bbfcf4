// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "disc/tour_metric.h"

namespace combwright::disc::tour {

// A closed tour as an array, with the exchanges of the classic tour improvements. Every exchange is
// built from reversals of stretches, the shorter side each time; they are written down so that they
// can be taken back.
class TourArray {
 public:
  explicit TourArray(std::vector<Stop> order);

  std::size_t size() const { return order_.size(); }
  const std::vector<Stop>& order() const { return order_; }
  Stop at(std::size_t place) const { return order_[place]; }
  std::size_t place(Stop stop) const { return place_[stop]; }
  Stop next(Stop stop) const {
    const std::size_t after = place_[stop] + 1;
    return order_[after == order_.size() ? 0 : after];
  }
  Stop previous(Stop stop) const {
    const std::size_t at = place_[stop];
    return order_[(at == 0 ? order_.size() : at) - 1];
  }
  // Stops from `from` on to `to`, both counted.
  std::size_t stretch(Stop from, Stop to) const {
    const std::size_t a = place_[from];
    const std::size_t b = place_[to];
    return (b >= a ? b - a : b + order_.size() - a) + 1;
  }

  // Moves a-b and c-d become a-c and b-d. Requires b to follow a and d to follow c, in the same
  // direction.
  void exchange(Stop a, Stop b, Stop c, Stop d);

  // Moves a-b, c-d and e-f become a-d, e-b and c-f: the stretches b..c and d..e change places.
  // Requires the six to follow one another in that order, in one direction.
  void swap_stretches(Stop a, Stop b, Stop c, Stop d, Stop e, Stop f);

  // Forgets what could be taken back; takes back everything since.
  void commit() { done_.clear(); }
  void roll_back();

 private:
  // Both take places and go around the end if last < first.
  void reverse(std::size_t first, std::size_t last);
  void reverse_places(std::size_t first, std::size_t last);

  std::vector<Stop> order_;
  std::vector<std::size_t> place_;
  std::vector<std::pair<std::size_t, std::size_t>> done_;
};

}  // namespace combwright::disc::tour
