// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"
#include "steel/comb.h"
#include "tuner/reading.h"

namespace combwright::tuner {

// Goodman's factor of a tooth after this was taken off, plucked by its lift, as steel::CombTooth
// has it for the tooth as designed. Filed along the tooth and polished: a scratch across costs
// more.
double safety_factor(const box::Box& box, const steel::CombTooth& tooth, const TakenOff& off);

}  // namespace combwright::tuner
