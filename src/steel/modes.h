// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "steel/tooth.h"

// The free vibration of a tooth. Exact solutions of the beam's equations (series.h) between exact
// counts of the modes (sweep.h), for any taper, any steps, any leads.
namespace combwright::steel {

// Largest relative error of a frequency against the exact solution of the same equations, for
// length / thickness from 5 to 500, thickness at the tip from a tenth to ten times that at the
// root, leads up to 50 times the tooth's mass, root stiffness from 1 to 1e6 times E I / length, and
// the first four modes.
inline constexpr double modes_relative_error = 1e-10;

// The same of modal masses and of the shares that follow from them.
inline constexpr double modal_mass_relative_error = 2e-7;

inline constexpr int most_modes = 16;

struct Mode {
  double frequency_hz = 0.0;
  // The mass that moves with the tip and has the mode's energy.
  double modal_mass_kg = 0.0;
  // Of a static lift of the tip, how much rings in this mode once it is let go; over all modes 1.
  double release_share = 0.0;
  // Bending moment and shear force at the root for one metre of the tip's deflection.
  double root_moment_n = 0.0;
  double root_force_n_m = 0.0;
};

// The first modes, lowest first; 1 <= count <= most_modes. Throws Error for a tooth whose modes
// can't be told apart or whose series does not end; no such tooth is known.
std::vector<Mode> modes(const Tooth& tooth, int count = 4);

// Frequency of the first mode alone, for searches that need it often. Throws like modes().
double first_mode_hz(const Tooth& tooth);

// Deflections along a mode at positions in m from the root; 1 at the tip. The mode must be one of
// modes() of the same tooth.
std::vector<double> shape(const Tooth& tooth, const Mode& mode,
                          const std::vector<double>& positions_m);

// Force at the tip for each metre of its deflection; shear counts if the theory is thick, and the
// root gives way as it is described.
double tip_stiffness_n_m(const Tooth& tooth);

}  // namespace combwright::steel
