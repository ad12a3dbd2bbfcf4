// SPDX-License-Identifier: Apache-2.0
#include "disc/tour_array.h"

#include <algorithm>
#include <cassert>
#include <tuple>

namespace combwright::disc::tour {

TourArray::TourArray(std::vector<Stop> order) : order_(std::move(order)), place_(order_.size()) {
  for (std::size_t i = 0; i < order_.size(); ++i) place_[order_[i]] = i;
}

void TourArray::exchange(Stop a, Stop b, Stop c, Stop d) {
  if (next(a) == b) {
    assert(next(c) == d);
    reverse(place_[b], place_[c]);
  } else {
    assert(next(b) == a && next(d) == c);
    reverse(place_[a], place_[d]);
  }
}

void TourArray::swap_stretches(Stop a, Stop b, Stop c, Stop d, Stop e, Stop f) {
  // Changing places comes to the same for any two of the three stretches: leave the longest.
  const bool forward = next(a) == b;
  const auto length = [&](Stop from, Stop to) {
    return forward ? stretch(from, to) : stretch(to, from);
  };
  const std::size_t longest = std::max({length(b, c), length(d, e), length(f, a)});
  if (length(f, a) != longest) {
    if (length(b, c) == longest) {
      std::tie(a, b, c, d, e, f) = std::tuple(c, d, e, f, a, b);
    } else {
      std::tie(a, b, c, d, e, f) = std::tuple(e, f, a, b, c, d);
    }
  }
  exchange(a, b, e, f);
  exchange(a, e, d, c);
  exchange(e, c, b, f);
}

void TourArray::roll_back() {
  while (!done_.empty()) {
    const auto [first, last] = done_.back();
    done_.pop_back();
    reverse_places(first, last);
  }
}

void TourArray::reverse(std::size_t first, std::size_t last) {
  const std::size_t n = order_.size();
  const std::size_t inside = (last >= first ? last - first : last + n - first) + 1;
  if (2 * inside > n) {
    const std::size_t outside_first = last + 1 == n ? 0 : last + 1;
    last = first == 0 ? n - 1 : first - 1;
    first = outside_first;
    if (inside == n) return;
  }
  done_.emplace_back(first, last);
  reverse_places(first, last);
}

void TourArray::reverse_places(std::size_t first, std::size_t last) {
  const std::size_t n = order_.size();
  std::size_t swaps = ((last >= first ? last - first : last + n - first) + 1) / 2;
  while (swaps-- > 0) {
    std::swap(order_[first], order_[last]);
    place_[order_[first]] = first;
    place_[order_[last]] = last;
    first = first + 1 == n ? 0 : first + 1;
    last = last == 0 ? n - 1 : last - 1;
  }
}

}  // namespace combwright::disc::tour
