// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/solver/beam.h"
#include "steel/solver/series.h"

// One pass along the beam at one angular frequency, from the root to the free tip.
//
// The root leaves two motions open; both are carried outwards, made orthonormal after each element
// so that neither drowns in the other (Godunov; Conte 1966, from memory). On the way the modes
// below the frequency are counted as Wittrick and Williams do (Q. J. Mech. Appl. Math. 24 (1971),
// from memory): those of each piece clamped at both ends, and the negative pivots of the stiffness
// at each joint. So no mode is ever overlooked, however close to another.
namespace combwright::steel {

struct Sweep {
  int modes_below = 0;
  // Determinant of the forces at the tip: the product of 1 - (angular frequency / mode's)^2 over
  // all modes, times its value at 0.
  double determinant = 0.0;
};

Sweep sweep(const Beam& beam, double angular_frequency);

// Deflection of the tip for a force of 1 at it that does not change.
double tip_compliance(const Beam& beam);

// One motion of the whole beam: its state on the side of each element nearer the root, in the
// beam's units, and at last at the tip; and the solutions on each piece, from root to tip.
struct Motion {
  std::vector<State> states;
  std::vector<Series> series;
};

// The motion with the least forces at the free tip: at a mode, its shape.
Motion free_motion(const Beam& beam, double angular_frequency);

}  // namespace combwright::steel
