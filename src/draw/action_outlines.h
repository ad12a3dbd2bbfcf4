// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"
#include "box/star_drive.h"
#include "draw/svg_sheet.h"

// The shapes of the action, seen along the axis of a star wheel from where the disc runs to the
// right.
namespace combwright::draw {

// From the mechanism's metres, the axis as origin and y up, to the paper.
struct View {
  double scale = 0.0;  // millimetres on paper for a metre
  Place axis;

  Place at(double x_m, double y_m) const { return {axis.x + x_m * scale, axis.y - y_m * scale}; }
};

// The driven point at that angle.
std::vector<Place> wheel_outline(const box::StarDrive& drive, double driven_rad, const View& view);

// With its leading face and the under side of the disc at those places.
std::vector<Place> projection_outline(const box::Box& box, double face_m, double disc_m,
                                      const View& view);

}  // namespace combwright::draw
