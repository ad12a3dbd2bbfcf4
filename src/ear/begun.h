// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "ear/pluck_fit.h"

namespace combwright::ear {

// A place where a tooth begins to ring, and what a first look found there.
struct Begun {
  Place place;
  PluckFit look;
  std::size_t clipped = 0;  // samples
};

// More begins in no recording of teeth that is made with care.
inline constexpr std::size_t most_begun = 400;

// The beginnings after which a tooth rings, in the order of time; no more than the first
// most_begun. A recording cut short before may begin while its tooth rings: that counts.
std::vector<Begun> find_begun(std::span<const double> samples, double rate_hz,
                              std::optional<double> near_hz);

// Leaves out first halves of double plucks (one tooth, touched twice within 0.3 s); of those that
// stay, whether one was left out before.
std::vector<bool> drop_double_plucks(std::vector<Begun>& begun, double rate_hz);

}  // namespace combwright::ear
