// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/mode_search.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include "base/error.h"
#include "steel/solver/cut.h"
#include "steel/solver/shape.h"
#include "steel/solver/sweep.h"

namespace combwright::steel {
namespace {

// The search ends when the last step was this small and a straight line and a parabola through what
// was found last agree this well; the parabola is far better then.
constexpr double small_step = 1e-5;
constexpr double agreement = 1e-12;
// Two modes closer than this share are one place for doubles.
constexpr double same = 1e-14;
constexpr int most_steps = 100;
// How often the search looks a quarter higher for enough modes: to 7000 times where they are due.
constexpr int most_rises = 40;
// How far beyond a place between two modes the next one lies, in half-waves; and how many of those
// that come after it count.
constexpr double beyond = 0.6;
constexpr std::size_t tail = 5;
constexpr int guess_rounds = 3;

[[noreturn]] void refuse() {
  throw Error({}, "the tooth's modes cannot be told apart; make its parts less unlike each other");
}

double fourth_power(double x) {
  return x * x * (x * x);
}

double fourth_root(double x) {
  return std::sqrt(std::sqrt(x));
}

// What was found at the square of an angular frequency.
struct Probe {
  double square = 0.0;
  int modes_below = 0;
  double determinant = 0.0;
};

// The mode lies above the first and not above the second.
struct Bracket {
  Probe low;
  Probe high;
};

class Search {
 public:
  Search(Beam& beam, int count)
      : beam_(&beam),
        scale_(phase(beam)),
        coarse_(beam),
        coarse_up_to_(square(std::numbers::pi * std::floor(0.5 * count))) {
    cut(coarse_, std::sqrt(coarse_up_to_));
    // Modes lie about pi apart in the phase of their bending waves, the first of a bare bar at 1.9.
    double top = std::numbers::pi * (count - 0.25);
    cut(beam, std::sqrt(square(top)));
    Probe highest = at(square(top));
    for (int i = 0; highest.modes_below < count; ++i) {
      if (i == most_rises) refuse();
      top *= 1.25;
      cut(beam, std::sqrt(square(top)));
      highest = at(square(top));
    }
    const Sweep still = sweep(coarse_, 0.0);
    brackets_.assign(static_cast<std::size_t>(count),
                     {{0.0, still.modes_below, still.determinant}, highest});
    for (int k = 1; k < count; ++k) tell(at(square(std::numbers::pi * k)));
    guess();
  }

  double tip_compliance() const { return steel::tip_compliance(coarse_); }

  // The beam cut as finely as the waves there need.
  const Beam& beam_at(double square) const { return square <= coarse_up_to_ ? coarse_ : *beam_; }

  // Angular frequency of the next mode.
  double next() {
    const std::size_t index = found_++;
    Bracket& bracket = brackets_[index];
    while (!isolated(index)) {
      if (bracket.high.square - bracket.low.square < same * bracket.high.square) break;
      tell(at(between(bracket)));
    }
    // A guess that the last sweeps have ruled out would be a false zero.
    for (std::size_t k = index + 1; k < squares_.size(); ++k) {
      if (!(squares_[k] > brackets_[k].low.square && squares_[k] < brackets_[k].high.square))
        squares_[k] = between(brackets_[k]);
    }
    squares_[index] = root(index);
    return std::sqrt(squares_[index]);
  }

 private:
  double square(double phase) const { return fourth_power(phase / scale_); }

  Probe at(double square) const {
    const Sweep found = sweep(beam_at(square), std::sqrt(square));
    return {square, found.modes_below, found.determinant};
  }

  // Guesses all modes from what the sweeps between them found, each by a straight line with the
  // guesses of the others divided out.
  void guess() {
    for (const Bracket& bracket : brackets_) squares_.push_back(between(bracket));
    const double top = scale_ * fourth_root(brackets_.back().high.square);
    for (std::size_t i = 0; i < tail_.size(); ++i)
      tail_[i] = square(top + (beyond + static_cast<double>(i)) * std::numbers::pi);
    for (int round = 0; round < guess_rounds; ++round) {
      for (std::size_t k = 0; k < squares_.size(); ++k) {
        const Bracket& bracket = brackets_[k];
        if (!isolated(k)) continue;
        const double guess = secant(alone(bracket.low, k), alone(bracket.high, k));
        if (guess > bracket.low.square && guess < bracket.high.square) squares_[k] = guess;
      }
    }
  }

  bool isolated(std::size_t index) const {
    const int below = static_cast<int>(index);
    return brackets_[index].low.modes_below == below &&
           brackets_[index].high.modes_below == below + 1;
  }

  // With all modes but one divided out, where they were found or are guessed, the determinant is
  // nearly a straight line.
  Probe alone(Probe probe, std::size_t index) const {
    double others = 1.0;
    for (std::size_t k = 0; k < squares_.size(); ++k) {
      if (k != index) others *= 1.0 - probe.square / squares_[k];
    }
    for (const double square : tail_) others *= 1.0 - probe.square / square;
    probe.determinant /= others;
    return probe;
  }

  // What a probe says about each mode.
  void tell(const Probe& probe) {
    for (std::size_t k = 0; k < brackets_.size(); ++k) {
      Bracket& bracket = brackets_[k];
      const bool above = probe.modes_below > static_cast<int>(k);
      if (above && probe.square < bracket.high.square) bracket.high = probe;
      if (!above && probe.square > bracket.low.square) bracket.low = probe;
    }
  }

  // The middle, by the phase.
  static double between(const Bracket& bracket) {
    return fourth_power(0.5 * (fourth_root(bracket.low.square) + fourth_root(bracket.high.square)));
  }

  // The square of the only mode in a bracket.
  double root(std::size_t index) const {
    Bracket bracket{alone(brackets_[index].low, index), alone(brackets_[index].high, index)};
    Probe last = bracket.low;
    Probe before = bracket.high;
    Probe first = bracket.high;
    for (int steps = 0; steps < most_steps; ++steps) {
      const double line = secant(last, before);
      double next = steps == 0 ? line : curve(last, before, first);
      const bool inside = next > bracket.low.square && next < bracket.high.square;
      if (inside && std::abs(next - last.square) <= small_step * next &&
          std::abs(next - line) <= agreement * next)
        return next;
      // Where the curve leads astray, or on too slowly, halve the bracket.
      if (!inside || steps % 8 == 7) next = between(bracket);
      first = before;
      before = last;
      last = alone(at(next), index);
      const bool below = (last.determinant < 0.0) == (bracket.low.determinant < 0.0);
      (below ? bracket.low : bracket.high) = last;
    }
    return last.square;
  }

  static double secant(const Probe& a, const Probe& b) {
    return a.square - a.determinant * (b.square - a.square) / (b.determinant - a.determinant);
  }

  // Where the parabola that gives the square by the determinant of three probes meets 0.
  static double curve(const Probe& a, const Probe& b, const Probe& c) {
    const double ab = secant(a, b);
    const double ac = secant(a, c);
    return ab - b.determinant * (ac - ab) / (c.determinant - b.determinant);
  }

  Beam* beam_;
  double scale_;
  // Long waves need fewer pieces.
  Beam coarse_;
  double coarse_up_to_;
  std::vector<Bracket> brackets_;
  std::vector<double> squares_;      // of the modes, as far as they are known
  std::array<double, tail> tail_{};  // of those that follow
  std::size_t found_ = 0;            // how many of squares_ are more than guesses
};

BeamMode mode_at(const Search& search, double angular_frequency) {
  const Beam& beam = search.beam_at(angular_frequency * angular_frequency);
  const Motion motion = free_motion(beam, angular_frequency);
  const double moving = moving_mass(beam, motion);
  const State& tip = motion.states.back();
  // Rayleigh's quotient: what holds the tip of this motion, over what moves, squares the error.
  const double held = tip[0] * tip[2] + tip[1] * tip[3];
  return {angular_frequency + 0.5 * held / (angular_frequency * moving), motion.states.front(), tip,
          moving};
}

}  // namespace

BeamModes find_modes(Beam& beam, int count) {
  assert(count >= 1);
  Search search(beam, count);
  BeamModes found{.modes = {}, .tip_compliance = search.tip_compliance()};
  for (int k = 0; k < count; ++k) found.modes.push_back(mode_at(search, search.next()));
  const auto falls = [](const BeamMode& a, const BeamMode& b) {
    return !(a.angular_frequency <= b.angular_frequency * (1.0 + agreement));
  };
  if (std::adjacent_find(found.modes.begin(), found.modes.end(), falls) != found.modes.end())
    refuse();
  return found;
}

double first_mode(Beam& beam) {
  return Search(beam, 1).next();
}

}  // namespace combwright::steel
