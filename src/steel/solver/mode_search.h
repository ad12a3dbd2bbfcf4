// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/solver/beam.h"
#include "steel/solver/series.h"

namespace combwright::steel {

// One mode of a beam, in its units.
struct BeamMode {
  double angular_frequency = 0.0;
  std::vector<State> states;  // before each element and at last at the tip
  double moving_mass = 0.0;
};

// The first `count` modes. Cuts the beam as finely as the highest of them needs.
// Throws Error if doubles can't tell them apart.
std::vector<BeamMode> find_modes(Beam& beam, int count);

// Angular frequency of the first mode alone.
double first_mode(Beam& beam);

}  // namespace combwright::steel
