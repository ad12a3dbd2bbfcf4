// SPDX-License-Identifier: Apache-2.0
#include "steel/mode_search.h"

#include <cassert>
#include <cmath>
#include <cstdint>
#include <numbers>

#include <boost/math/tools/toms748_solve.hpp>

#include "steel/cut.h"
#include "steel/shape.h"
#include "steel/sweep.h"

namespace combwright::steel {
namespace {

// Frequencies are sought by the phase of the bending waves, in which modes lie about pi apart. Once
// this close, one step by Rayleigh's quotient squares the error.
constexpr double close_enough = 1e-7;
// Two modes closer than this are one place for doubles.
constexpr double same = 1e-14;

struct Probe {
  double phase = 0.0;
  Sweep sweep;
};

class Search {
 public:
  Search(Beam& beam, int count) : beam_(&beam), scale_(steel::phase(beam)) {
    double top = std::numbers::pi * count;
    for (;; top *= 1.25) {
      cut(beam, frequency(top));
      const Probe probe = at(top);
      if (probe.sweep.modes_below < count) continue;
      brackets_.assign(static_cast<std::size_t>(count), {at(0.0), probe});
      break;
    }
    for (int k = 1; k < count; ++k) tell(at(std::numbers::pi * k));
  }

  BeamMode mode(int index) {
    Bracket& bracket = brackets_[static_cast<std::size_t>(index)];
    while (bracket.low.sweep.modes_below != index || bracket.high.sweep.modes_below != index + 1) {
      if (bracket.high.phase - bracket.low.phase < same * bracket.high.phase) break;
      tell(at(0.5 * (bracket.low.phase + bracket.high.phase)));
    }
    return refined(frequency(root(bracket)));
  }

 private:
  // The mode lies above the first and not above the second.
  struct Bracket {
    Probe low;
    Probe high;
  };

  double frequency(double phase) const { return phase * phase / (scale_ * scale_); }

  Probe at(double phase) const { return {phase, sweep(*beam_, frequency(phase))}; }

  // What a probe says about each mode.
  void tell(const Probe& probe) {
    for (std::size_t k = 0; k < brackets_.size(); ++k) {
      Bracket& bracket = brackets_[k];
      const bool above = probe.sweep.modes_below > static_cast<int>(k);
      if (above && probe.phase < bracket.high.phase) bracket.high = probe;
      if (!above && probe.phase > bracket.low.phase) bracket.low = probe;
    }
  }

  double root(const Bracket& bracket) const {
    const double low = bracket.low.sweep.residual;
    const double high = bracket.high.sweep.residual;
    if (!(low * high < 0.0)) return 0.5 * (bracket.low.phase + bracket.high.phase);
    std::uintmax_t steps = 60;
    const auto [from, to] = boost::math::tools::toms748_solve(
        [this](double phase) { return at(phase).sweep.residual; }, bracket.low.phase,
        bracket.high.phase, low, high,
        [](double a, double b) { return b - a <= close_enough * b; }, steps);
    return 0.5 * (from + to);
  }

  // Rayleigh's quotient of the motion at a frequency close to the mode's: what the forces that hold
  // its tip do, over what moves.
  BeamMode refined(double angular_frequency) const {
    BeamMode mode{angular_frequency, free_motion(*beam_, angular_frequency), 0.0};
    mode.moving_mass = moving_mass(*beam_, mode.states, angular_frequency);
    const State& tip = mode.states.back();
    const double held = tip[0] * tip[2] + tip[1] * tip[3];
    mode.angular_frequency =
        std::sqrt(angular_frequency * angular_frequency + held / mode.moving_mass);
    return mode;
  }

  Beam* beam_;
  double scale_;
  std::vector<Bracket> brackets_;
};

}  // namespace

std::vector<BeamMode> find_modes(Beam& beam, int count) {
  assert(count >= 1);
  Search search(beam, count);
  std::vector<BeamMode> modes;
  modes.reserve(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k) modes.push_back(search.mode(k));
  return modes;
}

}  // namespace combwright::steel
