// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "box/box.h"
#include "steel/learn.h"

namespace combwright::steel {

// Of the checksum that ties readings to the box file of their comb.
inline constexpr std::size_t least_checksum_letters = 6;

// The as-cut pitches of a box's combs from a CSV table (see base/csv.h) whose first line names the
// columns: comb, track, frequency_hz, and if they are known stderr_hz and box (first letters of the
// checksum of the comb's box file), in any order; other columns are left aside. Throws Error with
// line: a column missing, no such comb or track, a tooth twice, a pitch more than an octave from
// the tooth's target, no reading at all.
std::vector<PitchReading> read_pitches(std::string_view text, const std::string& name,
                                       const box::Box& box);

}  // namespace combwright::steel
