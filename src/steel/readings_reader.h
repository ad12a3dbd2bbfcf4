// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "box/box.h"
#include "steel/learn.h"

namespace combwright::steel {

// The as-cut pitches of a box's combs from a CSV table (RFC 4180) whose first line names the
// columns: comb, track, frequency_hz and, if it is known, stderr_hz, in any order; other columns
// are left aside. Throws Error with line: a column missing, no such comb or track, a tooth twice, a
// pitch more than an octave from the tooth's target, no reading at all.
std::vector<PitchReading> read_pitches(std::string_view text, const std::string& name,
                                       const box::Box& box);

}  // namespace combwright::steel
