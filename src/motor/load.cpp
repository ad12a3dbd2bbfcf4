// SPDX-License-Identifier: Apache-2.0
#include "motor/load.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "action/action.h"
#include "action/passage.h"
#include "base/angle.h"

namespace combwright::motor {
namespace {

constexpr double gravity = 9.80665;

// A torque that runs straight from `begin` to `end`.
struct Ramp {
  double begin;
  double end;
  double at_begin;
  double slope;
  bool pluck;
};

void add(std::vector<Ramp>& ramps, Ramp ramp) {
  if (!(ramp.end > ramp.begin)) return;
  if (ramp.begin < 0.0) {
    Ramp early = ramp;
    early.begin += two_pi;
    early.end = std::min(two_pi, ramp.end + two_pi);
    if (ramp.end > 0.0) {
      ramp.at_begin -= ramp.slope * ramp.begin;
      ramp.begin = 0.0;
      ramps.push_back(ramp);
    }
    ramps.push_back(early);
    return;
  }
  ramps.push_back(ramp);
}

std::vector<LoadPiece> pieces_of(std::vector<Ramp> ramps) {
  std::vector<double> at{0.0};
  for (const Ramp& ramp : ramps) {
    for (const double edge : {ramp.begin, ramp.end})
      if (edge < two_pi) at.push_back(edge);
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  std::sort(ramps.begin(), ramps.end(),
            [](const Ramp& a, const Ramp& b) { return a.begin < b.begin; });
  std::vector<LoadPiece> pieces;
  std::vector<Ramp> active;
  std::size_t next = 0;
  for (const double begin : at) {
    for (; next < ramps.size() && ramps[next].begin <= begin; ++next) active.push_back(ramps[next]);
    std::erase_if(active, [begin](const Ramp& ramp) { return ramp.end <= begin; });
    LoadPiece piece{.begin_rad = begin};
    for (const Ramp& ramp : active) {
      const double now = ramp.at_begin + ramp.slope * (begin - ramp.begin);
      if (ramp.pluck) {
        piece.pluck_n_m += now;
        piece.pluck_slope_n_m += ramp.slope;
      } else {
        piece.wheel_n_m += now;
      }
    }
    pieces.push_back(piece);
  }
  return pieces;
}

}  // namespace

std::vector<PluckLoad> pluck_loads(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                                   const disc::Disc& disc) {
  const std::vector<action::TrackAction> actions = action::action(box, disc.turn_time_s);
  const std::vector<action::Passage> passages =
      action::passages(box, steel::tip_stiffness_n_m(combs), disc.turn_time_s);
  std::vector<PluckLoad> result;
  result.reserve(disc.projections.size());
  for (const disc::Projection& projection : disc.projections) {
    assert(projection.track >= 1 && projection.track <= box.tracks.count);
    const auto at = static_cast<std::size_t>(projection.track - 1);
    const action::TrackAction& track = actions[at];
    const action::Passage& passage = passages[at];
    const double share = projection.time_s / disc.turn_time_s;
    const double lift_arc = track.release_arc_m - track.teeth.front().meet_arc_m;
    result.push_back({.release_rad = two_pi * (share - std::floor(share)),
                      .lift_rad = lift_arc / track.radius_m,
                      .drive_rad = track.release_arc_m / track.radius_m,
                      .work_j = passage.work_j - passage.brake_j,
                      .wheel_j = passage.brake_j});
  }
  return result;
}

Load load(const box::Box& box, const std::vector<PluckLoad>& plucks) {
  const double radius = 0.5 * box.disc.diameter_m;
  const double mass = sheet_density * std::numbers::pi * radius * radius * box.disc.thickness_m;
  Load load;
  load.inertia_kg_m2 = 0.5 * mass * radius * radius;
  load.steady_n_m = box.friction.spindle * mass * gravity * 0.5 * box.disc.centre_hole_diameter_m;
  for (const double roller : box.hold_down.roller_radius_m)
    load.steady_n_m += box.friction.roller * box.friction.roller_force_n * roller;
  std::vector<Ramp> ramps;
  for (const PluckLoad& pluck : plucks) {
    load.pluck_j += pluck.work_j;
    load.wheel_j += pluck.wheel_j;
    // Teeth that are not let go have no lift of their own; a fault tells of them.
    const double lift_rad = pluck.lift_rad > 0.0 ? pluck.lift_rad : pluck.drive_rad;
    const double peak = 2.0 * pluck.work_j / lift_rad;
    add(ramps, {pluck.release_rad - lift_rad, pluck.release_rad, 0.0, peak / lift_rad, true});
    add(ramps, {pluck.release_rad - pluck.drive_rad, pluck.release_rad,
                pluck.wheel_j / pluck.drive_rad, 0.0, false});
  }
  load.pieces = pieces_of(std::move(ramps));
  return load;
}

}  // namespace combwright::motor
