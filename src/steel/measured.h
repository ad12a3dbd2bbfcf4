// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "steel/tuning.h"

// How well a pitch that was measured is known, besides how well it was heard.
namespace combwright::steel {

// One standard deviation in cents: a recorder's clock is right within 50 parts in a million, a
// thermometer beside the comb within half a kelvin, and a workshop where nobody reads one is at
// reference_c within 2 K (common practice, no source). All readings of one sitting share it.
inline double shared_spread_cents(bool temperature_read) {
  constexpr double clock_cents = 0.05;
  constexpr double read_k = 0.5;
  constexpr double unread_k = 2.0;
  return std::hypot(clock_cents, cents_per_k() * (temperature_read ? read_k : unread_k));
}

// One standard deviation in cents of hearing a pitch where nobody told it.
inline constexpr double good_hearing_cents = 0.15;

}  // namespace combwright::steel
