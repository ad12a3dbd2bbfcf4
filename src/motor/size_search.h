// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "motor/size.h"

// The motors that stock allows, tried against the wishes one limit after the other.
namespace combwright::motor {

// What may stand against a motor, in the order in which it is tried.
enum class Limit {
  turns,     // the spring has too few with torque
  wheels,    // they break
  torque,    // the end of the wind doesn't drive the mean load
  life,      // of the strip
  governor,  // none holds the tempo from full to last, by the torques alone
  chord,     // the last turn stalls with least_margin times its plucks
  tempo      // over a whole wind, drop and time of a turn
};

struct Candidate {
  box::Box box;
  double strip_mass_kg = 0.0;
};

struct Refusal {
  Limit limit = Limit::turns;
  double strip_mass_kg = 0.0;
};

struct Trial {
  std::vector<Candidate> good;   // up to and with Limit::chord
  std::vector<Refusal> refused;  // each spring once, by the furthest limit of its gearings
  int tried = 0;                 // springs
};

// Throws Cancelled if stopped.
Trial search(const box::Box& box, const box::Shop& shop, const std::vector<PluckLoad>& plucks,
             const Wishes& wishes, const Watch& watch);

}  // namespace combwright::motor
