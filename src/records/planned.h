// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>

#include "box/box.h"
#include "records/records.h"

namespace combwright::records {

// A comb of the box, by its place among the combs, as the records take it; `box_sha256` is the
// checksum of the box file.
PlannedComb planned_comb(const box::Box& box, std::size_t comb, const std::string& box_sha256);

}  // namespace combwright::records
