// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace combwright::ear {

// Two plucks nearer than this may be found as one.
inline constexpr double least_gap_s = 0.04;

// A found onset is this near to the true one.
inline constexpr double onset_error_s = 0.015;

// What is listened to for one pluck: so much of what rang before it, up to just before the next.
inline constexpr double lead_in_s = 0.7;
inline constexpr double lead_out_s = 0.02;

// The samples at which something may have begun to sound, in order: where the power of a narrow
// band leaps over the noise and over all that rang there before, dying by 60 dB in 3 s (so that a
// beat is no onset). A click or a bump begins too: whether a tooth rings after it is for the fit to
// tell.
std::vector<std::size_t> find_onsets(std::span<const double> samples, double rate_hz);

}  // namespace combwright::ear
