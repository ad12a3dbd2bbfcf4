// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "ear/ring_fit.h"
#include "ear/stretch.h"

namespace combwright::ear {

// No pluck has more to show than this many rings, hum and neighbours included.
inline constexpr std::size_t most_rings = 32;

// Nothing lower is looked at: a musical box has no tooth there, but a room has rumble.
inline constexpr double lowest_ring_hz = 20.0;

// The mean power of noise in each bin, by the median of many bins around it, so that rings don't
// count.
std::vector<double> noise_floor(const Stretch& stretch);

// First guesses of the rings in a tapered stretch, the strongest first: peaks over the noise that
// chance makes in one recording of a thousand, each with its pole by the two bins at its top.
std::vector<Ring> find_peaks(const Stretch& tapered);

// The rings of a stretch by maximum likelihood: the guesses, and what stands out from their
// neighbourhood once they are taken away (a neighbour a semitone off under the foot of a strong
// peak). A guess that the fit loses or finds to be nothing is left out. Empty if nothing rings.
RingFit fit_all(const Stretch& stretch, std::vector<Ring> guesses);

}  // namespace combwright::ear
