// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "base/finding.h"
#include "box/box.h"
#include "disc/disc.h"

namespace combwright::disc {

// Of one kind of finding no more than this many are told one by one; the rest are counted.
inline constexpr std::size_t most_findings_of_a_kind = 20;

// So many pairs of holes are measured against each other; of a disc with more that lie near each
// other the rest is left, with a fault that says so.
inline constexpr std::size_t most_comparisons = 5'000'000;

// Lengths closer to a limit than this are as good as on it, and times likewise: half of the
// arranger's same_time_s, so that what it lets pass passes here too.
inline constexpr double length_slack_m = 1.0e-9;
inline constexpr double time_slack_s = 0.5e-9;

// What stands against cutting this disc: holes that overlap or leave less than projection.web_m of
// sheet between them or to the centre and drive holes; projections on one track closer than the
// star wheel's min_arc_m; holes in the start gap or the edge margin; hold-down rollers running over
// holes; more plucks in motor.pluck_window_s than the motor takes. As the arranger has it, a pluck
// exactly one window after another still lies in its window. Distances between holes are exact,
// between rectangles as footprint.h has them. Requires tracks of the box and a turn time above 0.
Findings check_disc(const box::Box& box, const Disc& disc);

}  // namespace combwright::disc
