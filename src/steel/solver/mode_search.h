// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/solver/beam.h"
#include "steel/solver/series.h"

namespace combwright::steel {

// One mode of a beam, in its units.
struct BeamMode {
  double angular_frequency = 0.0;
  State root;
  State tip;
  double moving_mass = 0.0;
};

struct BeamModes {
  std::vector<BeamMode> modes;
  double tip_compliance = 0.0;  // deflection of the tip for a force of 1 that does not change
};

// The first `count` modes. Cuts the beam as finely as the highest of them needs.
// Throws Error if doubles can't tell them apart.
BeamModes find_modes(Beam& beam, int count);

// Angular frequency of the first mode alone.
double first_mode(Beam& beam);

}  // namespace combwright::steel
