// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "motor/governor.h"
#include "motor/load.h"
#include "motor/spring.h"

// The motion of the whole machine over a wind.
namespace combwright::motor {

// All that turns, reduced to what the motion needs. The disc is driven from the barrel by one mesh
// and the governor by the train.
struct Machine {
  SpringCurve spring;
  double full_turns = 0.0;  // of the barrel, where the stop work lets the wind begin and end
  double last_turns = 0.0;
  double coil_friction = 0.0;
  double barrel_per_disc = 0.0;    // turns
  double governor_per_disc = 0.0;  // turns
  double disc_efficiency = 1.0;
  double disc_back = 1.0;  // of the disc driving the barrel
  double train_efficiency = 1.0;
  double train_back = 1.0;  // of the governor driving the barrel
  GovernorLaw governor;
  Load load;
};

// At the barrel, this many turns of it wound: what the hand feels, and what drives the box. The
// coils rub against the one and take from the other.
double winding_torque_n_m(const Machine& machine, double turns);
double running_torque_n_m(const Machine& machine, double turns);

// One turn of the disc.
struct Turn {
  double end_s = 0.0;
  double time_s = 0.0;
  double settled_s = 0.0;  // without what it lost in coming up to speed: the first turn's differs
  double slowest_rad_s = 0.0;  // of the disc, once it has come up to speed
  double fastest_rad_s = 0.0;

  // Of the speed, over the turn's mean.
  double swing() const;
};

// Where the energy goes, in joules. What the spring gives is what is left of its torque after the
// coils' friction, so that spring = plucks + train + governor + disc + left.
struct Books {
  double spring_j = 0.0;
  double plucks_j = 0.0;
  double train_j = 0.0;  // all meshes
  double governor_j = 0.0;
  double disc_j = 0.0;  // star wheels, spindle, hold-down bar
  double left_j = 0.0;  // still moving at the end
  double coils_j = 0.0;

  // The difference of the two sides over what the spring gives.
  double gap() const;
};

// Largest gap of the books.
inline constexpr double books_error = 1e-9;

struct Wind {
  std::vector<Turn> turns;  // those finished
  double time_s = 0.0;
  double disc_turns = 0.0;    // all, the last one's part with them
  bool stalls = false;        // before the stop work ends the wind
  double stall_rad = 0.0;     // place on the disc where it does
  double barrel_turns = 0.0;  // used
  Books books;

  // Of the turns finished, settled; 0 if there is none.
  double mean_turn_s() const;
};

// The largest relative error of a turn's time against a solution of the same equations.
inline constexpr double turn_time_error = 1e-6;

// A whole wind from rest, tune after tune without a stop, until the stop work or a stall ends it.
// `settle_rad`: disc travel from the start line after which it counts as up to speed.
Wind run(const Machine& machine, double settle_rad);

// The time at which the disc comes to each of these places (rising, in radians of one turn) in
// that turn of the wind, from the turn's beginning; what a stall keeps it from is left out.
std::vector<double> times_in_turn(const Machine& machine, int turn,
                                  const std::vector<double>& places_rad);

}  // namespace combwright::motor
