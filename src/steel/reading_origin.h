// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

#include "base/finding.h"
#include "steel/learn.h"

namespace combwright::steel {

// A warning if readings name another box file than the one with this checksum (SHA-256 in
// hexadecimal).
Findings find_foreign(const std::vector<PitchReading>& readings, std::string_view box_sha256);

}  // namespace combwright::steel
