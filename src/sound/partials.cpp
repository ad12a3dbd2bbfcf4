// SPDX-License-Identifier: Apache-2.0
#include "sound/partials.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace combwright::sound {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double c2_hz = 65.40639132514966;
constexpr double c8_hz = 4186.009044809578;

// The part of the frequency equation that the tip mass multiplies.
double mass_term(double l) {
  return std::sin(l) * std::cosh(l) - std::cos(l) * std::sinh(l);
}

double frequency_equation(double l, double mass_ratio) {
  return 1.0 + std::cos(l) * std::cosh(l) - mass_ratio * l * mass_term(l);
}

// d lambda / d mass_ratio along a root.
double root_slope(double l, double mass_ratio) {
  const double term = mass_term(l);
  return l * term /
         (-(1.0 + mass_ratio) * term - 2.0 * mass_ratio * l * std::sin(l) * std::sinh(l));
}

// Root n (from 1) lies between that of a pinned tip (endless mass) and that of a bare one.
double root(int n, double mass_ratio) {
  double low = (n - 0.76) * pi;
  double high = (n - 0.38) * pi;
  if (n == 1) low = 0.1;
  const bool sign_at_low = frequency_equation(low, mass_ratio) > 0.0;
  for (int i = 0; i < 55; ++i) {
    const double middle = 0.5 * (low + high);
    const bool sign = frequency_equation(middle, mass_ratio) > 0.0;
    (sign == sign_at_low ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

std::array<BeamMode, partial_count> beam_modes(double mass_ratio) {
  assert(mass_ratio >= 0.0);
  std::array<BeamMode, partial_count> modes;
  for (int n = 1; n <= partial_count; ++n) {
    const double l = root(n, mass_ratio);
    // A tip mass lowers a mode by d ln f / d mass_ratio = -1 / (2 (integral phi^2 + m)), which
    // turns the amplitude's formula into this one.
    modes[n - 1] = {l, -12.0 * root_slope(l, mass_ratio) / std::pow(l, 5)};
  }
  return modes;
}

double ring_time_s(double fundamental_hz, double partial_hz) {
  const double place =
      std::clamp(std::log(fundamental_hz / c2_hz) / std::log(c8_hz / c2_hz), 0.0, 1.0);
  const double fundamental_s = longest_ring_s * std::pow(shortest_ring_s / longest_ring_s, place);
  return fundamental_s * std::sqrt(fundamental_hz / partial_hz);
}

std::array<Partial, partial_count> partials(double fundamental_hz, double lead_mass_ratio) {
  const auto modes = beam_modes(lead_mass_ratio);
  std::array<Partial, partial_count> result;
  for (std::size_t n = 0; n < modes.size(); ++n) {
    const double ratio = std::pow(modes[n].lambda / modes[0].lambda, 2);
    const double frequency_hz = fundamental_hz * ratio;
    const double acceleration = modes[n].tip_amplitude * ratio * ratio;
    const double release = 1.0 / (1.0 + std::pow(2.0 * pi * frequency_hz * release_time_s, 2));
    result[n] = {frequency_hz, acceleration * release,
                 std::log(1000.0) / ring_time_s(fundamental_hz, frequency_hz)};
  }
  const double loudest = result[0].amplitude;
  for (auto& partial : result) partial.amplitude /= loudest;
  return result;
}

double lead_mass_ratio(const box::Scale& scale, int midi) {
  assert(!scale.midi.empty());
  const auto [lowest, highest] = std::minmax_element(scale.midi.begin(), scale.midi.end());
  if (*lowest == *highest) return 0.0;
  return static_cast<double>(*highest - midi) / (*highest - *lowest);
}

}  // namespace combwright::sound
