// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "base/finding.h"
#include "box/box.h"

namespace combwright::steel {

// What cutting and clipping tuning weights of a metal asks for, as a note; nothing where the metal
// does no more harm than the steel. Every output that tells of weights takes its words from here.
std::optional<Finding> weight_caution(box::WeightMetal metal);

}  // namespace combwright::steel
