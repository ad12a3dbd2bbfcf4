// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "base/finding.h"
#include "box/box.h"

// The forces while one projection passes: what the teeth, the damper and the brake of a star wheel
// ask of the disc, and where that work goes.
namespace combwright::action {

// One moment of a passage.
struct Moment {
  double travel_m = 0.0;       // of the disc since first touch
  double angle_rad = 0.0;      // of the driven point, from upright
  double force_n = 0.0;        // along the travel, at the projection
  std::vector<double> lift_m;  // of each comb's tooth; before and after its strike 0
};

struct Passage {
  int track = 0;
  double travel_m = 0.0;      // of the disc, over which the work is done
  double work_j = 0.0;        // by the disc, all of it
  double teeth_j = 0.0;       // of that, bent into the teeth: it rings away
  double damper_j = 0.0;      // bent into the damper, lost when it slips off
  double brake_j = 0.0;       // rubbed away at the brake
  double friction_j = 0.0;    // rubbed away where points rub on projection and teeth
  double peak_force_n = 0.0;  // along the travel, at the projection
  double peak_travel_m = 0.0;
  // At the root of the punched tongue, which stands out by the projection's height and is as thick
  // as the sheet: 6 F h / (width thickness^2) of the greatest force at its lower edge.
  double bending_stress_pa = 0.0;
  // How far the wheel turns on after the projection has slipped off, as fast as the tooth has let
  // it go, until the brake has taken that up; the wheel as a full disc of tip radius, so at most
  // that. Infinite without a brake.
  double run_out_rad = 0.0;
  bool jams = false;  // friction holds the point fast: no force would turn it
};

// The passage of a projection on each track in order, at that time for one turn. `stiffness_n_m`
// has the stiffness of each tooth's tip for each comb and track (steel::CombTooth).
std::vector<Passage> passages(const box::Box& box,
                              const std::vector<std::vector<double>>& stiffness_n_m,
                              double turn_time_s);

// One of them at `count` (2 or more) moments, evenly over the travel. `stiffness_n_m` for each
// comb.
std::vector<Moment> moments(const box::Box& box, int track,
                            const std::vector<double>& stiffness_n_m, std::size_t count);

// What to look at in that: tongues that bend for good, points held fast by friction, wheels that
// run on too far.
Findings findings(const box::Box& box, const std::vector<Passage>& passages);

// Largest difference of work_j from the sum of its parts, and without friction of that from what
// bends and brakes, as a share of it.
inline constexpr double passage_error = 1e-6;

}  // namespace combwright::action
