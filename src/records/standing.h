// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "records/offset.h"

namespace combwright::records {

// How far the tuning of a tooth has come, by its last reading.
enum class Standing { not_read, flat, in_tune, sharp };

// `tolerance_cents` to both sides counts as in tune.
Standing standing(const ToothSummary& tooth, double tolerance_cents);

// "not_read", "flat", "in_tune" or "sharp".
std::string to_text(Standing standing);

// The track of the next tooth after this one that is not in tune, from the first again after the
// last; nothing if all others are.
std::optional<int> next_to_tune(const std::vector<ToothSummary>& teeth, int track,
                                double tolerance_cents);

}  // namespace combwright::records
