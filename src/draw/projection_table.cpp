// SPDX-License-Identifier: Apache-2.0
#include "draw/projection_table.h"

#include <iterator>

#include <fmt/core.h>

#include "draw/shape.h"
#include "music/pitch.h"

namespace combwright::draw {

std::string write_projection_table(const disc::Disc& disc) {
  std::string out = "hit,track,note,radius_mm,angle_deg,time_s\r\n";
  int hit = 0;
  for (const auto& projection : disc.projections) {
    fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{:.6f}\r\n", ++hit, projection.track,
                   music::note_name(projection.midi), mm_text(to_lattice(projection.radius_m)),
                   degrees_text(projection.angle_rad), projection.time_s);
  }
  return out;
}

}  // namespace combwright::draw
