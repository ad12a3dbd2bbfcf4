// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "box/box.h"
#include "box/shop.h"
#include "disc/disc.h"

namespace combwright::draw {

// Time to punch the disc in seconds: the tour and a stroke for each hit.
double punching_time_s(const box::Shop& shop, const disc::Disc& disc);

// X at which the punch rests before the first hit and after the last, with the start line (A 0)
// under it: the tool is clear of the disc's edge, so that the sheet can be laid on and taken off.
double rest_radius_m(const box::Box& box);

// One step of setting up the punch: what, and how in plain words.
struct SetupStep {
  std::string what;
  std::string how;
};

// How to set up the punch for this disc, in the order of the work.
std::vector<SetupStep> setup_steps(const box::Box& box, const box::Shop& shop,
                                   const disc::Disc& disc);

}  // namespace combwright::draw
