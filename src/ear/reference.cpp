// SPDX-License-Identifier: Apache-2.0
#include "ear/reference.h"

#include <cmath>

#include "base/cents.h"

namespace combwright::ear {

double at_reference(double frequency_hz, double cents_per_k, double temperature_c) {
  return frequency_hz * std::exp2(cents_per_k * (reference_c - temperature_c) / 1200.0);
}

HeardPluck at_reference(HeardPluck pluck, double cents_per_k, std::optional<double> temperature_c) {
  if (!temperature_c) return pluck;
  const double ratio = at_reference(1.0, cents_per_k, *temperature_c);
  for (OwnMode& own : pluck.own) {
    own.frequency_hz *= ratio;
    own.stderr_hz *= ratio;
  }
  for (Partial& partial : pluck.partials) {
    partial.frequency_hz *= ratio;
    partial.stderr_hz *= ratio;
  }
  return pluck;
}

double pitch_spread_cents(const OwnMode& own, double cents_per_k, bool temperature_read) {
  const double heard = cents(1.0 + own.stderr_hz / own.frequency_hz);
  return std::hypot(heard, common_spread_cents(cents_per_k, temperature_read));
}

}  // namespace combwright::ear
