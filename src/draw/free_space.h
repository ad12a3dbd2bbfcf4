// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "draw/shape.h"

namespace combwright::draw {

// True if the box and the circle (its area) have a point in common.
bool overlaps(const Box2& box, const Circle& circle);

// True if the whole box lies inside the circle.
bool inside(const Box2& box, const Circle& circle);

// Puts texts, one a line, into a round space around holes: the first above the middle as high as it
// can be, the others below it, one under the other, as high as they can all be. Texts that do not
// fit are first shortened, then left out.
std::vector<Text> fit_texts(const std::vector<std::string>& texts, const Circle& space,
                            const std::vector<Circle>& holes);

}  // namespace combwright::draw
