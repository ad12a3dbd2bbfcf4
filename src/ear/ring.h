// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace combwright::ear {

// A decaying sinusoid: amplitude e^(-decay t) cos(2 pi frequency t + phase), t from the first
// sample of the stretch that it was found in.
struct Ring {
  double frequency_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude = 0.0;
  double phase_rad = 0.0;
};

// The same ring with its time counted from `seconds` later.
Ring later(const Ring& ring, double seconds);

}  // namespace combwright::ear
