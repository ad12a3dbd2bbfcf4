// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "base/finding.h"
#include "box/box.h"
#include "disc/disc.h"
#include "motor/run.h"
#include "motor/stumble.h"
#include "motor/train.h"
#include "steel/comb.h"

// What the motor does with a box and a tune.
namespace combwright::motor {

// Winding up the turns used, by hand.
struct Winding {
  double key_turns = 0.0;
  double greatest_torque_n_m = 0.0;  // with the coils' friction
  double greatest_force_n = 0.0;     // of the hand on the key
  double work_j = 0.0;
};

struct Prediction {
  double turn_time_s = 0.0;  // that is asked for
  Machine machine;
  std::vector<PluckLoad> plucks;
  std::vector<Mesh> meshes;  // under the torque at the full end
  SpringLife life;
  Winding winding;
  Wind run;
  int plays = 0;             // whole turns of the disc
  double mean_turn_s = 0.0;  // of those, 0 if there is none
  double tempo_drop = 0.0;   // speed lost from the fastest to the slowest turn, as a share
  // How many times the work of its plucks and star wheels the wind's last turn would still play, at
  // most most_margin; 0 if it stalls as it is when begun from rest. Not tried if the wind stalls.
  std::optional<double> margin;
  // Of the disc, if no stop work ended the wind; at most most_turns.
  double turns_without_stop = 0.0;
  double unevenness = 0.0;         // greatest swing of the speed within a turn over its mean
  std::optional<Stumble> stumble;  // of the last whole turn
  box::Governor set;        // as it must be set to hold turn_time_s half-way through the wind
  Hold hold = Hold::holds;  // whether that is within its reach
  Findings findings;

  double governor_speed_rad_s() const;  // at turn_time_s
};

// Of the mean time of a turn: what Motor::tempo_drop lets pass on either side of what is asked for.
struct TimeBounds {
  double least_s = 0.0;
  double most_s = 0.0;
};
TimeBounds turn_time_bounds(const box::Motor& motor, double turn_time_s);

// A wheel of cast or rolled brass bears these for long, and Hertz's pressure at most so much; no
// source but practice.
inline constexpr double brass_bending_pa = 80e6;
inline constexpr double brass_contact_pa = 600e6;

// Strip bent round less than so many times its thickness, by radius, is strained until it cracks at
// the eye (common practice, no source).
inline constexpr double least_arbor_thicknesses = 12.0;

// Fewer winds than these are a warning: ten a day for ten years.
inline constexpr double least_winds = 36500.0;

inline constexpr double most_margin = 64.0;

// No wind is followed further than so many turns of the disc, the most that a box file may ask for.
inline constexpr double most_turns = 500.0;

// Less margin than this is a warning: oil ages, and no two plucks take the same.
inline constexpr double low_margin = 1.2;

// The load with so many times the work of plucks and star wheels.
Load heavier(Load load, double times);

// Whether the last turn of the wind, begun from rest, comes to its end.
bool ends_its_last_turn(Machine machine);

// How the machine of a box is reduced for the motion; with the curve of its spring at hand, or
// without.
Machine machine(const box::Box& box, SpringCurve curve, Load load);
Machine machine(const box::Box& box, Load load);

// What is left at the governor of a torque of the barrel, with the load spread evenly over the
// turn; below 0 if the load takes more.
double governor_torque_n_m(const Machine& machine, double barrel_torque_n_m);

// Disc travel after which it counts as up to speed: the start gap, and a sixtieth of a turn at
// least.
double settle_rad(const box::Box& box);

// A chord of as many notes as the arranger may write (Motor::most_plucks), over all tracks, every
// other second: what to size a motor by that is to play any tune.
disc::Disc hardest_turn(const box::Box& box);

// A whole wind with the tune of a disc. `combs` are those of the box, with a tooth for every track.
Prediction predict(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                   const disc::Disc& disc);

// The same with the plucks' loads at hand.
Prediction predict(const box::Box& box, const std::vector<PluckLoad>& plucks, double turn_time_s);

// Which turn of a wind is played.
enum class WindState { full, half, last };

// The disc with the times at which its teeth are let go in that turn of the wind, and that turn's
// turn_time_s. Throws Error if the wind has no
// whole turn.
disc::Disc at_wind(const Prediction& prediction, disc::Disc disc, WindState wind);

}  // namespace combwright::motor
