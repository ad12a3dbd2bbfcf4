// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "ear/ring_fit.h"

namespace combwright::ear {

// Of each ring of a fit (phases counted from the sample `from`): whether it rang already between
// the samples `earliest` and `latest`, and goes on undisturbed. Nothing where that can't be told.
std::vector<std::optional<bool>> find_older(std::span<const double> samples, double rate_hz,
                                            const RingFit& fit, std::size_t from,
                                            std::size_t earliest, std::size_t latest);

}  // namespace combwright::ear
