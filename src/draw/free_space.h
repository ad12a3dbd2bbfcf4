// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "draw/shape.h"

namespace combwright::draw {

// True if the box and the circle (its area) have a point in common.
bool overlaps(const Box2& box, const Circle& circle);

// True if the whole box lies inside the circle.
bool inside(const Box2& box, const Circle& circle);

// True if the ink of the shape may come into the box: exact for a circle's line, else by the
// shape's bounds.
bool touches(const Shape& shape, const Box2& box);

// Where a box of this size keeps off all shapes: the lower left corner nearest to `wish` of those
// on a grid of 0.5 mm over the room, 0.4 mm of which stays free around the box. Nothing if the room
// is too small or too full.
std::optional<Point> nearest_free(const std::vector<Shape>& shapes, const Box2& room,
                                  std::int64_t width, std::int64_t height, Point wish);

// Puts texts, one a line, into a round space around holes: the first above the middle as high as it
// can be, the others below it, one under the other, as high as they can all be. Texts that do not
// fit are first shortened, then left out.
std::vector<Text> fit_texts(const std::vector<std::string>& texts, const Circle& space,
                            const std::vector<Circle>& holes);

}  // namespace combwright::draw
