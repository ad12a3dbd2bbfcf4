// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tuner/reading.h"

namespace combwright::tuner {

inline constexpr std::size_t most_readings_bytes = std::size_t{1} << 20;
inline constexpr std::size_t most_readings = 100;  // of one tooth
inline constexpr std::size_t most_partials = 16;

// The readings of one tooth, at least one, in order, from a JSON list of objects with
// `frequency_hz`, and if they are known `stderr_hz`, `clipped_length_m`, `filed_tip_m`,
// `filed_root_m` (0 if not given), `decay_s` and `partials_hz`; other keys are left aside. Throws
// Error with the place.
std::vector<Reading> read_readings(std::string_view json, const std::string& name);

}  // namespace combwright::tuner
