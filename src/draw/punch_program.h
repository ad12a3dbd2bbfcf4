// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "draw/stamp.h"

namespace combwright::draw {

// The longest line that RS-274 allows (NISTIR 6556, 3.3).
inline constexpr std::size_t longest_program_line = 256;

// The punch program in RS-274 as NISTIR 6556 describes it: G21 G90 G94; `G0 Z<up>` lifts the tool,
// whatever the stroke is; a move to the start, where M0 stops for a look at the set-up; for every
// hit in the order of the disc a move `N<hit> G0 X<radius, mm> A<angle, deg>` to the middle of the
// leading edge, then the stroke `G1 Z<down> F<mm/min> (hit <hit>)` and `G0 Z<up>`, or the shop's
// own lines; back to the start and M2 at the end. Hits are counted from 1 as in the table of
// projections; past 99999 there is no N word. The set-up in plain words, box, tune, date and
// checksum stand in comments at the head. ASCII, one comment a line, no parentheses inside; a
// comment always begins with a word of ours, so that no name can pass for one of the active
// comments that some controllers know.
std::string write_punch_program(const box::Box& box, const box::Shop& shop, const disc::Disc& disc,
                                const Stamp& stamp);

}  // namespace combwright::draw
