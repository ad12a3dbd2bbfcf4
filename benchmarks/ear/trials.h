// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <random>
#include <vector>

#include "ear/hear.h"
#include "signals.h"

namespace combwright::ear::bench {

using Random = std::mt19937_64;

// A scene with the pitches that are to be heard in it: one, or two of a pair, the lower first.
struct Trial {
  test::Scene scene;
  std::vector<double> truth_hz;
  std::vector<double> bound_hz;  // least standard deviations, where they are asked for
};

// One tooth's own mode alone in white noise, within half a semitone of this pitch; its bound is
// left to lone_bound_hz.
Trial lone(double hz, double rate_hz, double snr_db, Random& random);

// The bound of such trials; their phases and places within a sample change it by less than 0.5 %.
double lone_bound_hz(double hz, double rate_hz, double snr_db);

// One tooth of any pitch from C2 to C8, with its click as loud as itself, hum 20 dB below it, two
// higher modes, and a neighbour a semitone off that was plucked just as hard a second ago or less;
// noise 40 dB below.
Trial disturbed(Random& random);

// The same with the rumble and echo of a room, DC, 24 bits, at a low level.
Trial in_a_room(Random& random);

// Two teeth near 220 to 880 Hz plucked at once, this far apart, in white noise.
Trial pair(double apart_hz, double snr_db, Random& random);

struct Outcome {
  bool heard = false;  // something
  bool sure = false;   // and it says so
  bool right = false;  // within half a semitone
  std::vector<double> heard_hz;
  std::vector<double> error_hz;  // in the order of the truth
  std::vector<double> stated_hz;
};

Outcome outcome_of(const Trial& trial, std::uint64_t seed);

// Outcomes of many trials drawn by `make`, on all cores; the same on any number.
struct Run {
  std::vector<Trial> trials;
  std::vector<Outcome> outcomes;
};
Run run(std::size_t count, std::uint64_t stream, const std::function<Trial(Random&)>& make);

}  // namespace combwright::ear::bench
