// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/finding.h"
#include "base/watch.h"
#include "box/box.h"
#include "box/shop.h"
#include "motor/motor.h"

// Which motor to build.
namespace combwright::motor {

struct Wishes {
  int plays = 6;  // on one wind
  double turn_time_s = 0.0;
  double tempo_drop = 0.025;
  double barrel_radius_m = 0.0;  // room for the barrel, inside
};

// A box with another spring, train and governor, and what they do.
struct SizedMotor {
  box::Box box;
  Prediction prediction;
  double strip_mass_kg = 0.0;
  // "lightest strip", "easiest to wind", "smallest barrel", "greatest margin", "steadiest tempo"
  std::string why;
};

struct Sizing {
  Wishes wishes;
  std::vector<SizedMotor> designs;  // the lightest strip first; each one simulated over its wind
  std::string binding;              // what stood against more, in words
  int tried = 0;
  Findings findings;  // a fault if no motor meets the wishes
};

// The least margin of a motor that is offered: friction grows as oil ages.
inline constexpr double least_margin = 1.5;

// From the strips and gears of the shop; without a strip there, from the box's own. What is left of
// the box stays: friction, key, vanes and pads. Each design offered was run over a whole wind with
// these plucks and keeps all wishes: plays, drop of tempo and, on the mean and within that drop,
// time of a turn; with least_margin. Throws Cancelled if stopped.
Sizing size_motor(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
                  const Wishes& wishes, const Watch& watch = {});

// The keys of a box's spring, train and governor that sizing sets, as they stand in a box file;
// before them motor.turn_time and tempo_drop where they differ from those of the box as it is now.
std::string box_lines(const box::Box& box, const box::Box& now);

}  // namespace combwright::motor
