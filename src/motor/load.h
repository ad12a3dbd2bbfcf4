// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"
#include "disc/disc.h"
#include "steel/comb.h"

// What the disc has to be turned against.
namespace combwright::motor {

// Density of the sheet, kg/m3.
inline constexpr double sheet_density = 7850.0;

// One tooth or pair let go. The torque on the disc rises in a straight line from nothing to
// letting go; the area under it is the work.
struct PluckLoad {
  double release_rad = 0.0;  // disc travel from the start line, 0 to one turn
  double lift_rad = 0.0;     // travel over which the teeth are lifted
  double drive_rad = 0.0;    // over which its brake is taken to hold: from touch to letting go
  double work_j = 0.0;       // of teeth, damper and what rubs there
  double wheel_j = 0.0;      // of the star wheel's brake
};

// One stretch of a turn on which the torques run straight.
struct LoadPiece {
  double begin_rad = 0.0;
  double pluck_n_m = 0.0;        // at its beginning
  double pluck_slope_n_m = 0.0;  // for a radian
  double wheel_n_m = 0.0;
};

struct Load {
  std::vector<LoadPiece> pieces;  // of one turn, from 0; at least one
  double steady_n_m = 0.0;        // spindle and hold-down bar
  double pluck_j = 0.0;           // all plucks of one turn
  double wheel_j = 0.0;           // all star wheels of one turn
  double inertia_kg_m2 = 0.0;     // of the disc
};

// The plucks of a disc, each taking the work of its track's passage (action/passage.h). `combs`
// have a tooth for every track.
std::vector<PluckLoad> pluck_loads(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                                   const disc::Disc& disc);

// All of it over one turn. What begins before the start line belongs to the turn's end.
Load load(const box::Box& box, const std::vector<PluckLoad>& plucks);

}  // namespace combwright::motor
