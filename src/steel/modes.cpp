// SPDX-License-Identifier: Apache-2.0
#include "steel/modes.h"

#include <cassert>

#include "base/angle.h"
#include "steel/solver/beam.h"
#include "steel/solver/cut.h"
#include "steel/solver/mode_search.h"
#include "steel/solver/shape.h"
#include "steel/solver/sweep.h"

namespace combwright::steel {
namespace {

Mode in_si(const Beam& beam, const BeamMode& found, double compliance) {
  const double length = beam.length_m;
  const double tip = found.tip[0];
  const State& root = found.root;
  const double squared = found.angular_frequency * found.angular_frequency;
  return {.frequency_hz = found.angular_frequency * unit_rad_s(beam) / two_pi,
          .modal_mass_kg = found.moving_mass / (tip * tip) * beam.mass_kg_m * length,
          .release_share = tip * tip / (compliance * squared * found.moving_mass),
          .root_moment_n = root[3] / tip * beam.stiffness_n_m2 / (length * length),
          .root_force_n_m = root[2] / tip * beam.stiffness_n_m2 / (length * length * length)};
}

}  // namespace

std::vector<Mode> modes(const Tooth& tooth, int count) {
  assert(count >= 1 && count <= most_modes);
  Beam chain = beam(tooth);
  const BeamModes found = find_modes(chain, count);
  std::vector<Mode> result;
  result.reserve(found.modes.size());
  for (const BeamMode& mode : found.modes)
    result.push_back(in_si(chain, mode, found.tip_compliance));
  return result;
}

double first_mode_hz(const Tooth& tooth) {
  Beam chain = beam(tooth);
  return first_mode(chain) * unit_rad_s(chain) / two_pi;
}

std::vector<double> shape(const Tooth& tooth, const Mode& mode,
                          const std::vector<double>& positions_m) {
  Beam chain = beam(tooth);
  const double angular_frequency = two_pi * mode.frequency_hz / unit_rad_s(chain);
  cut(chain, angular_frequency);
  const Motion motion = free_motion(chain, angular_frequency);
  std::vector<double> deflections;
  deflections.reserve(positions_m.size());
  for (const double position : positions_m) {
    const State state = state_at(chain, motion, position / chain.length_m);
    deflections.push_back(state[0] / motion.states.back()[0]);
  }
  return deflections;
}

double tip_stiffness_n_m(const Tooth& tooth) {
  Beam chain = beam(tooth);
  cut(chain, 0.0);
  return chain.stiffness_n_m2 /
         (tip_compliance(chain) * chain.length_m * chain.length_m * chain.length_m);
}

}  // namespace combwright::steel
