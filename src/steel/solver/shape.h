// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/solver/beam.h"
#include "steel/solver/series.h"

// What a motion of the whole beam, given by its states between the elements (sweep.h), does within
// them. All in the beam's units.
namespace combwright::steel {

// Integral of mass times deflection squared and of rotary inertia times slope squared, bodies
// included: the mass that would have the motion's kinetic energy at deflection 1.
double moving_mass(const Beam& beam, const std::vector<State>& states, double angular_frequency);

// State of the motion at a position 0..1; at a place where it jumps, on the side nearer the tip.
State state_at(const Beam& beam, const std::vector<State>& states, double angular_frequency,
               double position);

}  // namespace combwright::steel
