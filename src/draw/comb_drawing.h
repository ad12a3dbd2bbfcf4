// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "draw/shape.h"
#include "steel/comb.h"

namespace combwright::draw {

// Which teeth bear their note and track: the first, the last and every so many, with capitals of
// this height. If all do, neighbours take turns in height; those 2 mm apart do not touch at 0.8 mm.
struct ToothLabels {
  int every = 1;
  double height_m = 0.0008;
};

// One comb at full size, twice: from below, and under that from the tips. x is the radius on the
// disc.
// From below: the tips lie on y = 0 and the roots above it. EDGE: the saw's cuts, open at the tips,
// the tips between them, and the plate round the back; HOLES: its screws'; MARKS: root line and
// weights as first fitted; TEXT: which edge is which, track and note of teeth.
// From the tips, all on MARKS: each tooth with its thickness at the root, a line at that of its tip
// as cut, and its weight.
Drawing comb_drawing(const box::Box& box, const box::Comb& comb, const steel::CombDesign& design,
                     const ToothLabels& labels = {});

// All combs of the box like that in one drawing, one above the other, with the title below.
Drawing comb_drawing(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                     const std::string& title);

}  // namespace combwright::draw
