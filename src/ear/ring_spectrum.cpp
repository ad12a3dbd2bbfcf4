// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_spectrum.h"

#include <numbers>

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;

constexpr double two_pi = 2.0 * std::numbers::pi;

Complex step_of(const Ring& ring, double rate_hz, double side) {
  return {-ring.decay_per_s / rate_hz, side * two_pi * ring.frequency_hz / rate_hz};
}

}  // namespace

Complex turn_of(std::size_t bin, std::size_t samples) {
  return std::polar(1.0, -two_pi * static_cast<double>(bin) / static_cast<double>(samples));
}

std::vector<Complex> turns_from(std::size_t low, std::size_t count, std::size_t samples) {
  // A few thousand products err by less than 1e-12.
  const Complex step = turn_of(1, samples);
  std::vector<Complex> turns;
  turns.reserve(count);
  Complex turn = turn_of(low, samples);
  for (std::size_t b = 0; b < count; ++b) {
    turns.push_back(turn);
    turn *= step;
  }
  return turns;
}

PoleSpectrum::PoleSpectrum(Complex step, std::size_t samples)
    : z_(std::exp(step)),
      power_(std::exp(step * static_cast<double>(samples))),
      samples_(static_cast<double>(samples)) {}

Series PoleSpectrum::at(Complex turn, bool with_bend) const {
  const Complex ratio = z_ * turn;
  const Complex away = 1.0 - ratio;
  // On the bin itself and undecaying the series is the number of samples.
  if (std::norm(away) < 1e-24) {
    const double sum = samples_;
    const double slope = 0.5 * sum * (samples_ - 1.0);
    return {sum, slope, slope * (2.0 * samples_ - 1.0) / 3.0};
  }
  // Without the care for overflow that a library's division takes.
  const Complex inverse = std::conj(away) / std::norm(away);
  const Complex sum = (1.0 - power_) * inverse;
  const Complex slope = (sum * ratio - samples_ * power_) * inverse;
  if (!with_bend) return {sum, slope, 0.0};
  return {sum, slope, ((2.0 * slope + sum) * ratio - samples_ * samples_ * power_) * inverse};
}

RingSpectrum::RingSpectrum(const Ring& ring, const Stretch& stretch)
    : half_(std::polar(0.5 * ring.amplitude, ring.phase_rad)),
      pole_(step_of(ring, stretch.rate_hz, 1.0), stretch.samples),
      mirror_(step_of(ring, stretch.rate_hz, -1.0), stretch.samples) {}

Complex RingSpectrum::at(Complex turn) const {
  return half_ * pole_.at(turn).sum + std::conj(half_) * mirror_.at(turn).sum;
}

}  // namespace combwright::ear
