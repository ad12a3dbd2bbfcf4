// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "base/reference.h"
#include "ear/pluck.h"

// From the pitch as it rang to the pitch of the tooth.
namespace combwright::ear {

// A pitch that holds at temperature_c, as it is at reference_c.
double at_reference(double frequency_hz, double cents_per_k, double temperature_c);

// The pluck with all its frequencies as they would be at reference_c. The standard errors stay what
// hearing alone leaves.
HeardPluck at_reference(HeardPluck pluck, double cents_per_k, std::optional<double> temperature_c);

// One standard deviation of a pitch by all that is known: hearing, the recorder's clock, the
// temperature.
double pitch_spread_cents(const OwnMode& own, double cents_per_k, bool temperature_read);

}  // namespace combwright::ear
