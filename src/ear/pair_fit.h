// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>

#include "ear/ring_fit.h"
#include "ear/stretch.h"

namespace combwright::ear {

// One ring of a fit taken for two that nearly coincide.
struct PairFit {
  RingFit fit;             // the fit with both; the fit as it was if one ring explains all
  std::size_t first = 0;   // places of the two in it, the stronger first
  std::size_t second = 0;  // equal to `first` if there is but one
  // Two equal rings nearer than this can't be told from one here; infinite if none can.
  double least_apart_hz = 0.0;
};

// The likeliest two rings in place of the fit's ring `own` (and of `rival`, where the fit has the
// second already). Starts are taken from a grid on which the amplitudes follow linearly (Golub and
// Pereyra's variable projection, SIAM J. Numer. Anal. 10, 1973). Two are believed where they leave
// less than chance would take away from one in a thousand recordings.
PairFit fit_pair(const Stretch& stretch, const RingFit& fit, std::size_t own,
                 std::optional<std::size_t> rival);

}  // namespace combwright::ear
