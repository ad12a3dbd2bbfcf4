// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "steel/comb.h"

namespace combwright::draw {

struct Figure {
  std::string name;  // "along", "across", "action", "motor"
  std::string title;
  std::string svg;
};

// The whole box in section, to scale, one user unit a millimetre of the box: along the line of the
// star wheels; across it at the track of the lowest note; the action there, enlarged; the motor
// with its axes in a row. Only what the box tells is drawn: where heights are not known the drawing
// is broken off, and without designs the teeth are dashed as thick as their plate. Every part bears
// the section of the box file that it shows, every dimension its key (SvgSheet::begin_part).
// Designs are those of the box's combs, or none.
std::vector<Figure> box_section(const box::Box& box, const std::vector<steel::CombDesign>& designs);

}  // namespace combwright::draw
