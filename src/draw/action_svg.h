// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "box/box.h"
#include "steel/comb.h"

namespace combwright::draw {

// What a drawing of the action shows: one track of a box with the teeth designed for it.
struct ActionScene {
  const box::Box& box;
  const std::vector<steel::CombDesign>& combs;
  int track = 1;
};

// What both drawings are called.
std::string action_title(const box::Box& box);

// Disc, projection, star wheel and tips of the teeth of that track, to scale and much enlarged,
// seen along the axis of the star wheel from where the disc runs to the right; the disc so far on
// since first touch (held within the passage; nothing: just before the first comb's tooth is let
// go).
std::string write_action_svg(const ActionScene& scene, std::optional<double> travel_m);

// Lift of the teeth and force at the projection over the travel of the disc.
std::string write_lift_svg(const ActionScene& scene);

}  // namespace combwright::draw
