// SPDX-License-Identifier: Apache-2.0
#include "ear/ring_spectrum.h"

#include <algorithm>
#include <cassert>

#include "base/angle.h"

namespace combwright::ear {
namespace {

using Complex = std::complex<double>;

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

std::vector<Complex> turns_of(const std::vector<std::size_t>& bins, std::size_t samples) {
  // A few hundred products err by less than 1e-13.
  constexpr std::size_t longest_run = 256;
  const Complex step = turn_of(1, samples);
  std::vector<Complex> turns;
  turns.reserve(bins.size());
  for (std::size_t b = 0; b < bins.size(); ++b) {
    const bool goes_on = b % longest_run != 0 && bins[b] == bins[b - 1] + 1;
    turns.push_back(goes_on ? turns.back() * step : turn_of(bins[b], samples));
  }
  return turns;
}

PoleSpectrum::PoleSpectrum(Complex step, std::size_t samples)
    : z_(std::exp(step)),
      power_(std::exp(step * static_cast<double>(samples))),
      samples_(static_cast<double>(samples)) {}

RingSpectrum::RingSpectrum(const Ring& ring, const Stretch& stretch)
    : half_(std::polar(0.5 * ring.amplitude, ring.phase_rad)),
      pole_(step_of(ring, stretch.rate_hz, 1.0), stretch.samples),
      mirror_(step_of(ring, stretch.rate_hz, -1.0), stretch.samples) {}

Complex RingSpectrum::at(Complex turn) const {
  return half_ * pole_.at(turn).sum + std::conj(half_) * mirror_.at(turn).sum;
}

// The two series added in real numbers, so that several bins are done at once: with c = half
// (1 - z^N), the ring is c / (1 - z t), its mirror image conj(c) / (1 - conj(z) t).
void RingSpectrum::take_from(std::span<Complex> spectrum, std::span<const Complex> turns) const {
  assert(spectrum.size() == turns.size());
  const Complex c = half_ * (1.0 - pole_.power());
  const double cr = c.real();
  const double ci = c.imag();
  const double zr = pole_.z().real();
  const double zi = pole_.z().imag();
  double nearest = 1.0;
  for (const Complex turn : turns) nearest = std::min(nearest, std::norm(1.0 - pole_.z() * turn));
  if (nearest < PoleSpectrum::singular) {
    for (std::size_t b = 0; b < turns.size(); ++b) spectrum[b] -= at(turns[b]);
    return;
  }
  for (std::size_t b = 0; b < turns.size(); ++b) {
    const double tr = turns[b].real();
    const double ti = turns[b].imag();
    const double to_r = 1.0 - (zr * tr - zi * ti);
    const double to_i = zr * ti + zi * tr;
    const double back_r = 1.0 - (zr * tr + zi * ti);
    const double back_i = zr * ti - zi * tr;
    const double to = 1.0 / (to_r * to_r + to_i * to_i);
    const double back = 1.0 / (back_r * back_r + back_i * back_i);
    spectrum[b] -= Complex((cr * to_r - ci * to_i) * to + (cr * back_r + ci * back_i) * back,
                           (cr * to_i + ci * to_r) * to + (cr * back_i - ci * back_r) * back);
  }
}

}  // namespace combwright::ear
