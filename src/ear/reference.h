// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "base/temperature.h"
#include "ear/pluck.h"

// From the pitch as it rang to the pitch of the tooth.
namespace combwright::ear {

// A recorder's clock is right within 50 parts in a million (common practice, no source).
inline constexpr double clock_spread_cents = 0.05;

// One standard deviation of a temperature that was read beside the comb, and of one that nobody
// read: a workshop is at 20 C or near (common practice, no source).
inline constexpr double read_temperature_spread_k = 0.5;
inline constexpr double unread_temperature_spread_k = 2.0;

// A pitch that holds at temperature_c, as it is at reference_c.
double at_reference(double frequency_hz, double cents_per_k, double temperature_c);

// The pluck with all its frequencies as they would be at reference_c. The standard errors stay what
// hearing alone leaves.
HeardPluck at_reference(HeardPluck pluck, double cents_per_k, std::optional<double> temperature_c);

// One standard deviation of a pitch by all that is known: hearing, the recorder's clock, the
// temperature.
double pitch_spread_cents(const OwnMode& own, double cents_per_k, bool temperature_read);

// The part of it that readings of one sitting share: clock and temperature.
double common_spread_cents(double cents_per_k, bool temperature_read);

}  // namespace combwright::ear
