// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "draw/shape.h"
#include "steel/comb.h"

namespace combwright::draw {

// The combs from below at full size, one above the other: x is the radius on the disc, the tips lie
// on one line and the roots above it. EDGE: line of the tips and the saw's cuts; MARKS: root line
// and leads as first fitted; TEXT: track and note of each tooth.
Drawing comb_drawing(const box::Box& box, const std::vector<steel::CombDesign>& designs,
                     const std::string& title);

}  // namespace combwright::draw
