// SPDX-License-Identifier: Apache-2.0
#include "ear/ring.h"

#include <cmath>

#include "base/angle.h"

namespace combwright::ear {

Ring later(const Ring& ring, double seconds) {
  Ring moved = ring;
  moved.amplitude *= std::exp(-ring.decay_per_s * seconds);
  moved.phase_rad = std::remainder(ring.phase_rad + two_pi * ring.frequency_hz * seconds, two_pi);
  return moved;
}

}  // namespace combwright::ear
