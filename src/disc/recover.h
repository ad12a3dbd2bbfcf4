// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"
#include "disc/disc.h"

namespace combwright::disc {

// What a disc plays: the plucks of its projections, by time, then track; the inverse of lay_out for
// times within one turn. Of each projection the angle, the note and the track count; where the
// track is 0 (an old disc measured with a rule) it is the one nearest to radius_m. `name` stands in
// errors. Throws Error if a radius lies more than half a pitch from any track or a track or angle
// can't be.
std::vector<arrange::Pluck> recover_plucks(const box::Box& box,
                                           const std::vector<Projection>& projections,
                                           double turn_time_s, const std::string& name = "disc");

}  // namespace combwright::disc
