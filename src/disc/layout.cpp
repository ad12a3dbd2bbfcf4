// SPDX-License-Identifier: Apache-2.0
#include "disc/layout.h"

#include <algorithm>
#include <cassert>
#include <tuple>
#include <utility>

#include "action/action.h"
#include "disc/checks.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

int bar_of(const arrange::Arrangement& arrangement, int note) {
  const auto at = static_cast<std::size_t>(note);
  return note >= 0 && at < arrangement.notes.size() ? arrangement.notes[at].bar : 0;
}

std::vector<Projection> place(const box::Box& box, const arrange::Arrangement& arrangement) {
  const std::vector<action::TrackAction> action = action::action(box, arrangement.turn_time_s);
  const std::vector<box::Track> tracks = box::tracks(box);
  std::vector<Projection> result;
  result.reserve(arrangement.plucks.size());
  for (const arrange::Pluck& pluck : arrangement.plucks) {
    assert(pluck.track >= 1 && pluck.track <= box.tracks.count);
    const auto at = static_cast<std::size_t>(pluck.track - 1);
    const double touch_s = pluck.time_s - action[at].release_delay_s;
    result.push_back({.track = pluck.track,
                      .midi = tracks[at].midi,
                      .radius_m = tracks[at].radius_m,
                      .angle_rad = angle_at(box.disc.turning, touch_s, arrangement.turn_time_s),
                      .time_s = pluck.time_s,
                      .note = pluck.note,
                      .bar = bar_of(arrangement, pluck.note)});
  }
  return result;
}

}  // namespace

bool played_before(const Projection& a, const Projection& b) {
  return std::tie(a.time_s, a.track, a.note, a.angle_rad, a.radius_m, a.midi, a.bar) <
         std::tie(b.time_s, b.track, b.note, b.angle_rad, b.radius_m, b.midi, b.bar);
}

Disc lay_out(const box::Box& box, const arrange::Arrangement& arrangement, const box::Punch& punch,
             const TourOptions& options) {
  Disc disc;
  disc.box_name = arrangement.box_name;
  disc.title = arrangement.title;
  disc.projections = place(box, arrangement);
  disc.outer_radius_m = box.disc.diameter_m / 2.0;
  disc.turn_time_s = arrangement.turn_time_s;
  return finish(box, std::move(disc), punch, options);
}

Disc finish(const box::Box& box, Disc disc, const box::Punch& punch, const TourOptions& options) {
  std::vector<Projection> placed = std::move(disc.projections);
  std::sort(placed.begin(), placed.end(), played_before);
  std::vector<TourStop> stops;
  stops.reserve(placed.size());
  for (const Projection& projection : placed)
    stops.push_back({projection.radius_m, projection.angle_rad});
  const TourResult tour = punch_tour(punch, stops, options);
  disc.projections.clear();
  disc.projections.reserve(placed.size());
  for (const std::size_t index : tour.order) disc.projections.push_back(placed[index]);
  disc.tour = {.length_s = tour.length_s, .bound_s = tour.bound_s};
  disc.findings = check_disc(box, disc);
  return disc;
}

}  // namespace combwright::disc
