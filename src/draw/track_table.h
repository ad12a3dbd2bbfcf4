// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arrange/arrangement.h"
#include "box/box.h"

namespace combwright::draw {

// What a tune asks of one track.
struct TrackLoad {
  arrange::TrackUse track;
  int copy = 1;    // which of the tracks of its note this is, in the order of the tracks
  int copies = 1;  // how many tracks have its note
  int plucks = 0;
  std::optional<double> closest_s;  // least time between two plucks, if there are two
  double lift_m = 0.0;              // as `action::action` says, at the turn of the arrangement
  double gap_m = 0.0;               // damper gap to set, likewise
};

// "1 of 2"; empty where the note has one track only.
std::string duplicate_words(const TrackLoad& load);

// The tracks of the arrangement in its order with what their teeth have to play, and how they are
// to be set. The arrangement is one for this box.
std::vector<TrackLoad> track_loads(const box::Box& box, const arrange::Arrangement& arrangement);

// The same as CSV (RFC 4180), header
// `track,note,duplicate,radius_mm,plucks,min_interval_s,closest_s,lift_mm,gap_mm`: `duplicate` is
// as `duplicate_words` says, `min_interval_s` the least interval that the track needs between two
// plucks, `closest_s` the shortest that the tune asks, empty where the track plays less than twice,
// `lift_mm` the lift of the tooth, `gap_mm` the damper gap to set.
std::string write_track_table(const box::Box& box, const arrange::Arrangement& arrangement);

}  // namespace combwright::draw
