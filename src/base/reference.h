// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

// What pitches are compared at, and what that leaves open.
namespace combwright {

// In degrees Celsius (ISO 1); a tooth is taken to have it if nobody measured its temperature.
inline constexpr double reference_c = 20.0;

// One standard deviation in cents of a good measurement where nobody told its own.
inline constexpr double good_reading_cents = 0.15;

// One standard deviation of a workshop's temperature that nobody read (common practice, no source).
inline constexpr double unread_temperature_spread_k = 2.0;

// One standard deviation in cents that all readings of one sitting share: a recorder's clock is
// right within 50 parts in a million, a thermometer beside the comb within half a kelvin (common
// practice, no source).
inline double common_spread_cents(double cents_per_k, bool temperature_read) {
  constexpr double clock_cents = 0.05;
  constexpr double read_k = 0.5;
  return std::hypot(clock_cents,
                    cents_per_k * (temperature_read ? read_k : unread_temperature_spread_k));
}

}  // namespace combwright
