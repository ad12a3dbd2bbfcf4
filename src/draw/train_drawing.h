// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"
#include "draw/shape.h"

namespace combwright::draw {

// The train of a box at true size with its axes in a row, the barrel's at the origin and the
// governor's at the right. The teeth are the cutter's; what is drawn is what to turn, divide and
// plant by. EDGE: the blanks of wheels and pinions; MARKS: pitch circles, bottoms of the teeth's
// spaces, the middle of every tooth, the line on which an endless screw touches; AXES: the axes;
// TEXT: teeth, diameters of the blanks, distances between the axes. A wheel of a screw's arbor
// stands upright and is drawn turned into the plane.
Drawing train_drawing(const box::Box& box);

}  // namespace combwright::draw
