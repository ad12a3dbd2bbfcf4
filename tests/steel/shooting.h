// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "steel/tooth.h"

namespace combwright::steel {

// An independent road to the modes: the beam's equations integrated from root to tip by
// Boost.Odeint (Fehlberg 7-8, long double), written from the tooth's description alone. Gives the
// determinant of the forces left over at the tip, whose sign changes at every mode and nowhere
// else. `tolerance` is that of each integration step.
long double tip_determinant(const Tooth& tooth, long double frequency_hz, long double tolerance);

}  // namespace combwright::steel
