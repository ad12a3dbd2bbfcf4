// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/solver/beam.h"
#include "steel/solver/series.h"
#include "steel/solver/sweep.h"

// What a motion of the whole beam (sweep.h) does along its elements. All in the beam's units.
namespace combwright::steel {

// Integral of mass times deflection squared and of rotary inertia times slope squared, bodies
// included: the mass that would have the motion's kinetic energy at deflection 1.
double moving_mass(const Beam& beam, const Motion& motion);

// State of the motion at a position 0..1; at a place where it jumps, on the side nearer the tip.
State state_at(const Beam& beam, const Motion& motion, double position);

}  // namespace combwright::steel
