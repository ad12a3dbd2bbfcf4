// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arrange/arrangement.h"

namespace combwright::draw {

// What a tune asks of one track.
struct TrackLoad {
  arrange::TrackUse track;
  int plucks = 0;
  std::optional<double> closest_s;  // least time between two plucks, if there are two
};

// The tracks of the arrangement in its order with what their teeth have to play.
std::vector<TrackLoad> track_loads(const arrange::Arrangement& arrangement);

// The same as CSV (RFC 4180), header `track,note,radius_mm,plucks,min_interval_s,closest_s`; the
// last cell is empty where the track plays less than twice.
std::string write_track_table(const arrange::Arrangement& arrangement);

}  // namespace combwright::draw
