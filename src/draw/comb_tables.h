// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "steel/comb.h"

// The lists of designed combs as CSV, in millimetres, for the bench and for a spreadsheet.
namespace combwright::draw {

// One row a tooth; `as_cut_cents` is its pitch before tuning from its target, below 0. Of a tooth
// without a weight the cells of the weight are empty, of one with a weight that of filing.
std::string write_teeth_table(const std::vector<steel::CombDesign>& designs);

// One row a cut of the saw, from the tips to the root line; `outside_of_track` is 0 for the cut
// inside of track 1, `from_edge_mm` is from the inner edge of the plate.
std::string write_saw_table(const box::Box& box, const std::vector<steel::CombDesign>& designs);

// One row for all weights of one bar and length, as first fitted, with the tracks they are for.
std::string write_weight_table(const std::vector<steel::CombDesign>& designs);

}  // namespace combwright::draw
