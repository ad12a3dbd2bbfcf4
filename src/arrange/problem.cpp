// SPDX-License-Identifier: Apache-2.0
#include "arrange/problem.h"

#include <algorithm>
#include <cmath>

#include "action/action.h"
#include "arrange/rules.h"
#include "base/angle.h"

namespace combwright::arrange {
namespace {

// Projections on neighbouring tracks lie side by side with `pitch - width` of sheet between them.
// Where that is less than the web they must be apart along the track as well: the corners of two
// rectangles at least the web from each other.
std::vector<NeighbourLimit> neighbour_limits(const box::Box& box,
                                             const std::vector<action::TrackAction>& tracks,
                                             double turn_time_s) {
  const double length = box.projection.length_m;
  const double web = box.projection.web_m;
  std::vector<NeighbourLimit> limits;
  bool any = false;
  for (std::size_t k = 0; k + 1 < tracks.size(); ++k) {
    // The far end of a straight projection stands off its circle by length^2 / 2R, outwards.
    const double bulge = length * length / (2.0 * tracks[k].radius_m);
    const double beside = std::max(0.0, box.tracks.pitch_m - box.projection.width_m - bulge);
    const double speed = two_pi * tracks[k].radius_m / turn_time_s;
    const bool binds = beside < web;
    any = any || binds;
    const double along = length + bulge + std::sqrt(std::max(0.0, web * web - beside * beside));
    limits.push_back({.shift_s = tracks[k + 1].release_delay_s - tracks[k].release_delay_s,
                      .reach_s = binds ? along / speed : 0.0});
  }
  return any ? limits : std::vector<NeighbourLimit>{};
}

}  // namespace

Problem problem_of(const box::Box& box, double turn_time_s) {
  const std::vector<action::TrackAction> tracks = action::action(box, turn_time_s);
  Problem problem;
  double longest_delay = 0.0;
  double longest_tail = 0.0;  // of a projection behind its pluck
  for (std::size_t k = 0; k < tracks.size(); ++k) {
    problem.teeth.push_back(
        {.midi = box::tracks(box)[k].midi, .interval_s = tracks[k].min_interval_s});
    const double tail_s =
        action::trailing_angle_rad(box.projection, tracks[k].radius_m) / two_pi * turn_time_s;
    longest_delay = std::max(longest_delay, tracks[k].release_delay_s);
    longest_tail = std::max(longest_tail, tail_s - tracks[k].release_delay_s);
  }
  problem.neighbours = neighbour_limits(box, tracks, turn_time_s);
  problem.most_plucks = box.motor.most_plucks;
  problem.pluck_window_s = box.motor.pluck_window_s;
  problem.earliest_s = box.disc.start_gap_rad / two_pi * turn_time_s + longest_delay;
  problem.latest_s = turn_time_s - longest_tail;
  return problem;
}

double earned_at_onset(const Demand& demand, int tooth_midi) {
  if (tooth_midi == demand.midi)
    return demand.hold == Hold::octave ? 0.0 : kept_share * demand.weight;
  if (!is_octave(demand, tooth_midi) || demand.hold == Hold::kept) return 0.0;
  return octave_share_of(demand.melody) * demand.weight;
}

double earned_moved(const Demand& demand) {
  return demand.hold == Hold::none ? moved_share * demand.weight : 0.0;
}

bool is_octave(const Demand& demand, int tooth_midi) {
  return is_octave_step(tooth_midi - demand.midi);
}

double earned_by(const Problem& problem, std::size_t i, const Choice& choice) {
  if (choice.tooth < 0) return 0.0;
  const Demand& demand = problem.demands[i];
  if (choice.fate == Fate::moved) return earned_moved(demand);
  return earned_at_onset(demand, problem.teeth[static_cast<std::size_t>(choice.tooth)].midi);
}

}  // namespace combwright::arrange
