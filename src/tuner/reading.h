// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

namespace combwright::tuner {

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
  double stderr_hz = 0.0;     // one standard deviation of its own; 0 if it is not known
  // One standard deviation of an error that all readings share: the recorder's clock, the
  // thermometer, a temperature that nobody read.
  double common_cents = 0.0;
  TakenOff since;  // as it was told or measured, not as it truly came out
  std::optional<double> decay_s;
  std::vector<double> partials_hz;  // of its higher modes, as far as they were heard
};

// One standard deviation in cents, by the two constants above.
double spread_cents(const Reading& reading);

}  // namespace combwright::tuner
