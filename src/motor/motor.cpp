// SPDX-License-Identifier: Apache-2.0
#include "motor/motor.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "base/angle.h"
#include "base/error.h"
#include "box/measures.h"
#include "motor/findings.h"

namespace combwright::motor {
namespace {

Setting setting(const box::Box& box, const Machine& machine, double turn_time_s) {
  const double half = 0.5 * (machine.full_turns + machine.last_turns);
  const double torque = governor_torque_n_m(machine, torque_n_m(machine.spring, half));
  return set_to(box.governor, two_pi * machine.governor_per_disc / turn_time_s, torque);
}

Winding winding(const box::Box& box, const Machine& machine) {
  Winding result;
  result.key_turns = machine.full_turns - machine.last_turns;
  const double more = 1.0 + machine.coil_friction;
  result.greatest_torque_n_m = winding_torque_n_m(machine, machine.full_turns);
  result.greatest_force_n = result.greatest_torque_n_m / box.motor.key_arm_m;
  result.work_j = work_j(machine.spring, machine.full_turns, machine.last_turns) * more;
  return result;
}

double margin(const Machine& machine) {
  const auto plays = [&](double times) {
    Machine tried = machine;
    tried.load = heavier(std::move(tried.load), times);
    return ends_its_last_turn(std::move(tried));
  };
  double low = 1.0;
  if (!plays(low)) return 0.0;
  double high = 2.0 * low;
  while (low < most_margin && plays(high)) {
    low = high;
    high *= 2.0;
  }
  if (low >= most_margin) return most_margin;
  for (int i = 0; i < 7; ++i) {
    const double middle = 0.5 * (low + high);
    (plays(middle) ? low : high) = middle;
  }
  return low;
}

// Turns of the disc in a wind that goes on until it stalls, or the strip lies on the wall.
double turns_without_stop(Machine machine, double settle_rad) {
  machine.last_turns = std::max(machine.spring.least_turns(),
                                machine.full_turns - most_turns * machine.barrel_per_disc);
  return run(machine, settle_rad).disc_turns;
}

}  // namespace

Load heavier(Load load, double times) {
  for (LoadPiece& piece : load.pieces) {
    piece.pluck_n_m *= times;
    piece.pluck_slope_n_m *= times;
    piece.wheel_n_m *= times;
  }
  return load;
}

bool ends_its_last_turn(Machine machine) {
  machine.full_turns = machine.last_turns + machine.barrel_per_disc;
  return !run(machine, 0.1).stalls;
}

TimeBounds turn_time_bounds(const box::Motor& motor, double turn_time_s) {
  return {(1.0 - motor.tempo_drop) * turn_time_s, (1.0 + motor.tempo_drop) * turn_time_s};
}

double Prediction::governor_speed_rad_s() const {
  return two_pi * machine.governor_per_disc / turn_time_s;
}

Machine machine(const box::Box& box, Load load) {
  return machine(box, spring_curve(box.spring), std::move(load));
}

Machine machine(const box::Box& box, SpringCurve curve, Load load) {
  Machine result;
  result.spring = std::move(curve);
  result.full_turns = result.spring.full_turns() - box.spring.turns_left_full;
  // A stop work that would let the strip run down on the wall ends there.
  result.last_turns =
      std::max(result.spring.least_turns(), result.full_turns - box.spring.turns_used);
  result.coil_friction = box.spring.coil_friction;
  result.barrel_per_disc = box.spring.turns_per_disc_turn;
  result.governor_per_disc = train_ratio(box.train) * box.spring.turns_per_disc_turn;
  result.disc_efficiency = box.train.disc_mesh_efficiency;
  result.disc_back = back_efficiency(box.train.disc_mesh_efficiency, false);
  result.train_efficiency = train_efficiency(box.train);
  result.train_back = train_back_efficiency(box.train);
  result.governor = governor_law(box.governor);
  result.load = std::move(load);
  return result;
}

double governor_torque_n_m(const Machine& machine, double barrel_torque_n_m) {
  const double driving =
      machine.barrel_per_disc * (1.0 - machine.coil_friction) * barrel_torque_n_m;
  const double load =
      machine.load.steady_n_m + (machine.load.pluck_j + machine.load.wheel_j) / two_pi;
  return (driving - load / machine.disc_efficiency) * machine.train_efficiency /
         machine.governor_per_disc;
}

double settle_rad(const box::Box& box) {
  return std::max(box.disc.start_gap_rad, two_pi / 60.0);
}

disc::Disc hardest_turn(const box::Box& box) {
  disc::Disc result;
  result.box_name = box.name;
  result.outer_radius_m = 0.5 * box.disc.diameter_m;
  result.turn_time_s = box.motor.turn_time_s;
  const std::vector<box::Track> tracks = box::tracks(box);
  const auto notes =
      std::min<std::size_t>(static_cast<std::size_t>(box.motor.most_plucks), tracks.size());
  const double first_s = std::max(settle_rad(box) / two_pi * result.turn_time_s, 1.0);
  constexpr double every_s = 2.0;
  const auto chords = static_cast<int>(std::ceil((result.turn_time_s - first_s) / every_s));
  for (int chord = 0; chord < chords; ++chord) {
    for (std::size_t i = 0; i < notes; ++i) {
      const box::Track& track = tracks[(2 * i + 1) * tracks.size() / (2 * notes)];
      result.projections.push_back({.track = track.number,
                                    .midi = track.midi,
                                    .radius_m = track.radius_m,
                                    .time_s = first_s + chord * every_s,
                                    .note = -1});
    }
  }
  return result;
}

Prediction predict(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                   const disc::Disc& disc) {
  return predict(box, pluck_loads(box, combs, disc), disc.turn_time_s);
}

Prediction predict(const box::Box& box, const std::vector<PluckLoad>& plucks, double turn_time_s) {
  Prediction result;
  result.turn_time_s = turn_time_s;
  result.plucks = plucks;
  result.machine = machine(box, load(box, plucks));
  const Machine& m = result.machine;
  const double full = torque_n_m(m.spring, m.full_turns);
  result.meshes = meshes(box.train, full);
  result.life = spring_life(box.spring, full, torque_n_m(m.spring, m.last_turns));
  result.winding = winding(box, m);
  const Setting set = setting(box, m, turn_time_s);
  result.set = set.governor;
  result.hold = set.hold;
  result.run = run(m, settle_rad(box));
  const std::vector<Turn>& turns = result.run.turns;
  result.plays = static_cast<int>(turns.size());
  result.mean_turn_s = result.run.mean_turn_s();
  result.turns_without_stop = turns_without_stop(m, settle_rad(box));
  if (!result.run.stalls) result.margin = margin(m);
  if (!turns.empty()) {
    double quickest = turns.front().settled_s;
    double slowest = quickest;
    for (const Turn& turn : turns) {
      quickest = std::min(quickest, turn.settled_s);
      slowest = std::max(slowest, turn.settled_s);
      result.unevenness = std::max(result.unevenness, turn.swing());
    }
    result.tempo_drop = 1.0 - quickest / slowest;
    result.stumble = worst_stumble(m, result.plays - 1, turns.back().settled_s, plucks);
  }
  result.findings = motor_findings(box, result);
  return result;
}

disc::Disc at_wind(const Prediction& prediction, disc::Disc disc, WindState wind) {
  if (prediction.plays == 0)
    throw Error({}, "the motor does not turn the disc once; combwright motor tells why");
  int turn = 0;
  if (wind == WindState::half) turn = prediction.plays / 2;
  if (wind == WindState::last) turn = prediction.plays - 1;
  std::vector<std::size_t> order(disc.projections.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return disc.projections[a].time_s < disc.projections[b].time_s;
  });
  std::vector<double> places;
  places.reserve(order.size());
  for (const std::size_t i : order)
    places.push_back(two_pi * disc.projections[i].time_s / disc.turn_time_s);
  const std::vector<double> times = times_in_turn(prediction.machine, turn, places);
  for (std::size_t i = 0; i < times.size(); ++i) disc.projections[order[i]].time_s = times[i];
  disc.turn_time_s = prediction.run.turns[static_cast<std::size_t>(turn)].time_s;
  // Rounding may carry a place at the very end of the turn beyond it.
  const double last_s = std::nextafter(disc.turn_time_s, 0.0);
  for (std::size_t i = times.size(); i < order.size(); ++i)
    disc.projections[order[i]].time_s = last_s;
  for (disc::Projection& projection : disc.projections)
    projection.time_s = std::min(projection.time_s, last_s);
  return disc;
}

}  // namespace combwright::motor
