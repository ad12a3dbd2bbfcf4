// SPDX-License-Identifier: Apache-2.0
#include "draw/track_table.h"

#include <algorithm>
#include <iterator>
#include <map>

#include <fmt/core.h>

#include "draw/shape.h"
#include "music/pitch.h"

namespace combwright::draw {

std::vector<TrackLoad> track_loads(const arrange::Arrangement& arrangement) {
  std::map<int, std::vector<double>> times;
  for (const auto& pluck : arrangement.plucks) times[pluck.track].push_back(pluck.time_s);
  std::map<int, int> copies;
  for (const auto& track : arrangement.tracks) ++copies[track.midi];
  std::map<int, int> seen;
  std::vector<TrackLoad> loads;
  for (const auto& track : arrangement.tracks) {
    auto& played = times[track.track];
    std::sort(played.begin(), played.end());
    TrackLoad load{track, ++seen[track.midi], copies[track.midi], static_cast<int>(played.size()),
                   std::nullopt};
    for (std::size_t i = 1; i < played.size(); ++i) {
      const double interval_s = played[i] - played[i - 1];
      load.closest_s = std::min(load.closest_s.value_or(interval_s), interval_s);
    }
    loads.push_back(load);
  }
  return loads;
}

std::string duplicate_words(const TrackLoad& load) {
  return load.copies > 1 ? fmt::format("{} of {}", load.copy, load.copies) : "";
}

std::string write_track_table(const arrange::Arrangement& arrangement) {
  std::string out = "track,note,duplicate,radius_mm,plucks,min_interval_s,closest_s\r\n";
  for (const auto& load : track_loads(arrangement)) {
    fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{:.6f},{}\r\n", load.track.track,
                   music::note_name(load.track.midi), duplicate_words(load),
                   mm_text(to_lattice(load.track.radius_m)), load.plucks, load.track.min_interval_s,
                   load.closest_s ? fmt::format("{:.6f}", *load.closest_s) : "");
  }
  return out;
}

}  // namespace combwright::draw
