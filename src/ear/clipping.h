// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace combwright::ear {

// The samples at which the recording met its ceiling or floor, in order: those of three or more
// equal ones at an extreme that the sound comes to with a slope. Empty if it happens less than
// three times.
std::vector<std::size_t> clipped_samples(std::span<const double> samples);

}  // namespace combwright::ear
