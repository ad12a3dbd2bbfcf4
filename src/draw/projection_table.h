// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "disc/disc.h"

namespace combwright::draw {

// The disc's hits in the order of the tour as CSV (RFC 4180), header
// `hit,track,note,radius_mm,angle_deg,time_s`: hits from 1, the note by name, the radius to 0.1 um,
// the angle, that of the leading edge, to 0.00001 deg (0.04 um at a radius of 200 mm), the time of
// the pluck to 1 us.
std::string write_projection_table(const disc::Disc& disc);

}  // namespace combwright::draw
