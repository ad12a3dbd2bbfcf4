// SPDX-License-Identifier: Apache-2.0
#include "disc/recover.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

#include <fmt/format.h>

#include "action/action.h"
#include "base/error.h"
#include "box/measures.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

int nearest_track(const box::Box& box, double radius_m) {
  const double steps = (radius_m - box.tracks.inner_radius_m) / box.tracks.pitch_m;
  if (!(steps >= -0.5 && steps <= box.tracks.count - 0.5)) return 0;
  return std::clamp(static_cast<int>(std::lround(steps)) + 1, 1, box.tracks.count);
}

int track_of(const box::Box& box, const Projection& projection, std::size_t hit,
             const std::string& name) {
  if (projection.track != 0) {
    if (projection.track >= 1 && projection.track <= box.tracks.count) return projection.track;
    throw Error({name}, fmt::format("hit {} is on track {}; the box has tracks 1 to {}", hit,
                                    projection.track, box.tracks.count));
  }
  const int track = nearest_track(box, projection.radius_m);
  if (track != 0) return track;
  throw Error({name},
              fmt::format("hit {} at radius {:.3f} mm lies on no track; they run from {:.3f} mm to "
                          "{:.3f} mm",
                          hit, projection.radius_m * 1e3, box::track_radius_m(box, 1) * 1e3,
                          box::outer_radius_m(box) * 1e3));
}

}  // namespace

std::vector<arrange::Pluck> recover_plucks(const box::Box& box,
                                           const std::vector<Projection>& projections,
                                           double turn_time_s, const std::string& name) {
  assert(turn_time_s > 0.0);
  const std::vector<action::TrackAction> action = action::action(box, turn_time_s);
  std::vector<arrange::Pluck> plucks;
  plucks.reserve(projections.size());
  for (std::size_t i = 0; i < projections.size(); ++i) {
    const Projection& projection = projections[i];
    if (!std::isfinite(projection.angle_rad)) {
      throw Error({name}, fmt::format("hit {} has no angle; it must be a finite number", i + 1));
    }
    const int track = track_of(box, projection, i + 1, name);
    double time_s = touch_time_s(box.disc.turning, projection.angle_rad, turn_time_s) +
                    action[static_cast<std::size_t>(track - 1)].release_delay_s;
    // Let go after the start line has come round again: early in the next turn, as in this one.
    if (time_s >= turn_time_s) time_s -= turn_time_s;
    plucks.push_back({.time_s = time_s, .track = track, .note = projection.note});
  }
  std::sort(plucks.begin(), plucks.end(), [](const arrange::Pluck& a, const arrange::Pluck& b) {
    return std::tie(a.time_s, a.track, a.note) < std::tie(b.time_s, b.track, b.note);
  });
  return plucks;
}

}  // namespace combwright::disc
