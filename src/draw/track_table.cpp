// SPDX-License-Identifier: Apache-2.0
#include "draw/track_table.h"

#include <algorithm>
#include <cassert>
#include <iterator>
#include <map>

#include <fmt/core.h>

#include "action/action.h"
#include "draw/shape.h"
#include "music/pitch.h"

namespace combwright::draw {

std::vector<TrackLoad> track_loads(const box::Box& box, const arrange::Arrangement& arrangement) {
  if (arrangement.tracks.empty()) return {};
  const auto actions = action::action(box, arrangement.turn_time_s);
  std::map<int, std::vector<double>> times;
  for (const auto& pluck : arrangement.plucks) times[pluck.track].push_back(pluck.time_s);
  std::map<int, int> copies;
  for (const auto& track : arrangement.tracks) ++copies[track.midi];
  std::map<int, int> seen;
  std::vector<TrackLoad> loads;
  for (const auto& track : arrangement.tracks) {
    auto& played = times[track.track];
    std::sort(played.begin(), played.end());
    const auto action = std::find_if(actions.begin(), actions.end(), [&track](const auto& each) {
      return each.track == track.track;
    });
    assert(action != actions.end());
    TrackLoad load{.track = track,
                   .copy = ++seen[track.midi],
                   .copies = copies[track.midi],
                   .plucks = static_cast<int>(played.size()),
                   .lift_m = action->lift_m,
                   .gap_m = action->gap_m};
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

std::string write_track_table(const box::Box& box, const arrange::Arrangement& arrangement) {
  std::string out =
      "track,note,duplicate,radius_mm,plucks,min_interval_s,closest_s,lift_mm,gap_mm\r\n";
  for (const auto& load : track_loads(box, arrangement)) {
    fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{:.6f},{},{},{}\r\n", load.track.track,
                   music::note_name(load.track.midi), duplicate_words(load),
                   mm_text(to_lattice(load.track.radius_m)), load.plucks, load.track.min_interval_s,
                   load.closest_s ? fmt::format("{:.6f}", *load.closest_s) : "",
                   mm_text(to_lattice(load.lift_m)), mm_text(to_lattice(load.gap_m)));
  }
  return out;
}

}  // namespace combwright::draw
