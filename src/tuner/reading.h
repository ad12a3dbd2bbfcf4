// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "steel/measured.h"

namespace combwright::tuner {

// One standard deviation of a good measurement whose own is not given: a tooth that is half a
// kelvin warmer than believed is 0.1 cent flat, whatever the recording's noise.
inline constexpr double good_reading_cents = steel::good_hearing_cents;

// No reading is taken for better than this.
inline constexpr double best_reading_cents = 0.02;

// What was taken off a tooth, by name.
struct TakenOff {
  double clip_m = 0.0;       // off the tip end of its weight
  double file_tip_m = 0.0;   // of thickness, at the tip; see worked.h
  double file_root_m = 0.0;  // of thickness, next to the root

  bool nothing() const { return clip_m == 0.0 && file_tip_m == 0.0 && file_root_m == 0.0; }
};

// A tooth's pitch, and what was done to it since the reading before; before the first, since it was
// cut.
struct Reading {
  double frequency_hz = 0.0;  // at 20 C
  double stderr_hz = 0.0;     // of hearing it, one standard deviation; 0 if it is not known
  TakenOff since;             // as it was told or measured, not as it truly came out
  std::optional<double> decay_s;
  std::vector<double> partials_hz;  // of its higher modes, as far as they were heard
  // How far off it may be, one standard deviation, together with the tooth's other readings: by the
  // recorder's clock and a temperature that is not known. Reading again does not lessen it.
  double shared_cents = 0.0;
};

// One standard deviation of hearing it in cents, by the two constants above.
double spread_cents(const Reading& reading);

}  // namespace combwright::tuner
