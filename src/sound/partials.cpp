// SPDX-License-Identifier: Apache-2.0
#include "sound/partials.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "base/angle.h"
#include "steel/modes.h"

namespace combwright::sound {
namespace {

constexpr double c2_hz = 65.40639132514966;
constexpr double c8_hz = 4186.009044809578;

double let_go_factor(double frequency_hz) {
  return 1.0 / (1.0 + std::pow(two_pi * frequency_hz * release_time_s, 2));
}

}  // namespace

double ring_time_s(double fundamental_hz, double partial_hz) {
  const double place =
      std::clamp(std::log(fundamental_hz / c2_hz) / std::log(c8_hz / c2_hz), 0.0, 1.0);
  const double fundamental_s = longest_ring_s * std::pow(shortest_ring_s / longest_ring_s, place);
  return fundamental_s * std::sqrt(fundamental_hz / partial_hz);
}

std::array<Partial, partial_count> partials(const steel::Tooth& tooth, double lift_m) {
  assert(lift_m >= 0.0);
  const std::vector<steel::Mode> modes = steel::modes(tooth, partial_count);
  std::array<Partial, partial_count> result;
  for (std::size_t n = 0; n < result.size(); ++n) {
    const steel::Mode& mode = modes[n];
    const double force_n = std::abs(mode.root_force_n_m) * mode.release_share * lift_m;
    result[n] = {mode.frequency_hz, force_n * let_go_factor(mode.frequency_hz),
                 std::log(1000.0) / ring_time_s(modes[0].frequency_hz, mode.frequency_hz)};
  }
  return result;
}

}  // namespace combwright::sound
