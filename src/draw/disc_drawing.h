// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"
#include "disc/disc.h"
#include "draw/shape.h"

namespace combwright::draw {

// The disc as it is made, seen from the side the punch strikes, its centre at the origin and the
// start line on +X: edge, centre and drive holes with cross-hairs, start line from the centre hole
// to the edge, turning arrow, every projection as one closed polyline and, in the same order, its
// axis point (the middle of its leading edge), all in the order of Disc::projections. A
// projection's polyline runs from the inner end of its leading edge to the outer one and back along
// the trailing edge. Texts (tune, box, turn, side, numbers of tracks) go where they touch no hole,
// mark or projection; one that finds no room is left out.
Drawing draw_disc(const box::Box& box, const disc::Disc& disc);

// The same before the first hit and without texts: edge, holes, cross-hairs, start line and turning
// arrow.
Drawing draw_blank(const box::Box& box);

}  // namespace combwright::draw
