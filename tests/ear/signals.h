// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

#include "base/cents.h"
#include "ear/ring.h"

// Recordings whose truth is known: teeth of ours, and what stands in the way of hearing them.
namespace combwright::ear::test {

// The first modes of a tooth that sounds at this pitch, plucked: an even bar, with a lead at its
// tip below 600 Hz as heavy as the bar at 65 Hz. Each as strong as its force on the bedplate, the
// first 1; ring times as the preview has them (sound/partials.h); time from the onset.
std::vector<Ring> tooth_rings(double hz, std::size_t modes = 3);

// One tooth let go.
struct Plucked {
  double onset_s = 0.0;
  std::vector<Ring> rings;
  double until_s = std::numeric_limits<double>::infinity();  // held still from then on
};

// Levels are amplitudes of full scale unless another measure is named; 0 leaves a thing out.
struct Scene {
  double rate_hz = 48000.0;
  double seconds = 2.0;
  std::vector<Plucked> plucks;
  double noise = 0.0;  // white, standard deviation of a sample
  double click = 0.0;  // of every pluck: a burst of noise that dies to 1 / e in click_s
  double click_s = 0.002;
  double hum = 0.0;  // of all harmonics together, root mean square
  double hum_hz = 50.01;
  int hum_harmonics = 5;  // each at 0.6 of the one before
  double room = 0.0;  // what a pluck leaves in the room: noise and three modes below 200 Hz, dying
                      // by 60 dB in 0.4 s
  double rumble = 0.0;  // noise that falls by 6 dB an octave from 30 Hz on, standard deviation
  double dc = 0.0;
  double level = 1.0;  // of everything so far
  double clip = std::numeric_limits<double>::infinity();
  int bits = 0;  // rounded to so many bits
};

// The sound of a scene; the same for the same seed.
std::vector<double> sound(const Scene& scene, std::uint64_t seed);

// Standard deviation of white noise for a signal-to-noise ratio A^2 / (2 s^2), in decibels, of a
// ring of amplitude A at its onset over the whole band.
double noise_of(double snr_db, double amplitude = 1.0);

// Every tooth of a comb in order, at equal steps of time from `first_s` on; each rings on under the
// next ones. `loudness_db` is by how much the plucks differ, standard deviation.
Scene comb_take(const std::vector<double>& pitches_hz, double rate_hz, double first_s,
                double step_s, double loudness_db, std::uint64_t seed);

// How far a pitch lies above another.
inline double cents(double hz, double from_hz) {
  return combwright::cents(hz / from_hz);
}

}  // namespace combwright::ear::test
