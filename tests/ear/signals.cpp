// SPDX-License-Identifier: Apache-2.0
#include "signals.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include "base/angle.h"
#include "sound/partials.h"
#include "steel/modes.h"
#include "steel/tooth.h"

namespace combwright::ear::test {
namespace {

steel::Tooth bar(double length_m, double lead_share) {
  steel::Tooth tooth = steel::plain_tooth(length_m, 0.0016, 0.0009, 0.0009);
  if (lead_share > 0.0)
    tooth.leads = {steel::lead_block(tooth, lead_share * steel::steel_mass_kg(tooth),
                                     0.94 * length_m, 0.1 * length_m)};
  return tooth;
}

void add(std::vector<double>& to, const Ring& ring, double rate_hz, double onset_s,
         double until_s) {
  const auto begin = static_cast<std::size_t>(std::ceil(std::max(0.0, onset_s * rate_hz)));
  const double last = std::min(static_cast<double>(to.size()), std::ceil(until_s * rate_hz));
  const std::complex<double> step(-ring.decay_per_s / rate_hz,
                                  two_pi * ring.frequency_hz / rate_hz);
  // Afresh every block, so that no error of rounding grows.
  constexpr std::size_t block_samples = 4096;
  const std::complex<double> turn = std::exp(step);
  std::complex<double> value;
  for (std::size_t n = begin; static_cast<double>(n) < last; ++n) {
    if ((n - begin) % block_samples == 0)
      value = std::polar(ring.amplitude, ring.phase_rad) *
              std::exp(step * (static_cast<double>(n) - onset_s * rate_hz));
    to[n] += value.real();
    value *= turn;
  }
}

class Noise {
 public:
  explicit Noise(std::uint64_t seed) : random_(seed) {}

  double operator()() { return normal_(random_); }

 private:
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

void add_burst(std::vector<double>& to, double rate_hz, double onset_s, double level,
               double decay_s, Noise& noise) {
  const auto begin = static_cast<std::size_t>(std::ceil(onset_s * rate_hz));
  const std::size_t end =
      std::min(to.size(), begin + static_cast<std::size_t>(12.0 * decay_s * rate_hz));
  for (std::size_t n = begin; n < end; ++n)
    to[n] += level * noise() * std::exp(-static_cast<double>(n - begin) / (decay_s * rate_hz));
}

void add_room(std::vector<double>& to, const Scene& scene, double onset_s, Noise& noise) {
  constexpr double decay_s = 0.4 / 6.907755;  // 60 dB in 0.4 s
  add_burst(to, scene.rate_hz, onset_s, scene.room, decay_s, noise);
  for (const double hz : {43.0, 77.0, 181.0})
    add(to, {hz, 1.0 / decay_s, scene.room, two_pi * noise()}, scene.rate_hz, onset_s,
        scene.seconds);
}

void add_hum(std::vector<double>& to, const Scene& scene, Noise& noise) {
  double power = 0.0;
  for (int h = 0; h < scene.hum_harmonics; ++h) power += 0.5 * std::pow(0.6, 2 * h);
  const double first = scene.hum / std::sqrt(power);
  for (int h = 0; h < scene.hum_harmonics; ++h)
    add(to, {(h + 1) * scene.hum_hz, 0.0, first * std::pow(0.6, h), two_pi * noise()},
        scene.rate_hz, 0.0, scene.seconds);
}

void add_rumble(std::vector<double>& to, const Scene& scene, Noise& noise) {
  constexpr double corner_hz = 30.0;
  const double keep = std::exp(-two_pi * corner_hz / scene.rate_hz);
  double state = 0.0;
  for (double& sample : to) {
    state = keep * state + std::sqrt(1.0 - keep * keep) * noise();
    sample += scene.rumble * state;
  }
}

}  // namespace

std::vector<Ring> tooth_rings(double hz, std::size_t modes) {
  const double lead_share = std::max(0.0, std::log(600.0 / hz) / std::log(600.0 / 65.0));
  double length_m = 0.03;
  // The pitch goes with the inverse square of the length, all but for shear.
  for (int i = 0; i < 8; ++i)
    length_m *= std::sqrt(steel::first_mode_hz(bar(length_m, lead_share)) / hz);
  const auto partials = sound::partials(bar(length_m, lead_share), 0.0006);
  std::vector<Ring> rings;
  for (std::size_t m = 0; m < std::min(modes, partials.size()); ++m)
    rings.push_back({partials[m].frequency_hz, partials[m].decay_per_s,
                     partials[m].force_n / partials[0].force_n, -0.5 * std::numbers::pi});
  return rings;
}

std::vector<double> sound(const Scene& scene, std::uint64_t seed) {
  Noise noise(seed);
  std::vector<double> samples(static_cast<std::size_t>(std::lround(scene.seconds * scene.rate_hz)));
  for (const Plucked& pluck : scene.plucks) {
    for (const Ring& ring : pluck.rings)
      add(samples, ring, scene.rate_hz, pluck.onset_s, pluck.until_s);
    if (pluck.onset_s < 0.0) continue;
    if (scene.click > 0.0)
      add_burst(samples, scene.rate_hz, pluck.onset_s, scene.click, scene.click_s, noise);
    if (scene.room > 0.0) add_room(samples, scene, pluck.onset_s, noise);
  }
  if (scene.hum > 0.0) add_hum(samples, scene, noise);
  if (scene.rumble > 0.0) add_rumble(samples, scene, noise);
  const double step = std::ldexp(1.0, 1 - scene.bits);
  for (double& sample : samples) {
    if (scene.noise > 0.0) sample += scene.noise * noise();
    sample = std::clamp(scene.level * (sample + scene.dc), -scene.clip, scene.clip);
    if (scene.bits > 0) sample = step * std::round(sample / step);
  }
  return samples;
}

double noise_of(double snr_db, double amplitude) {
  return amplitude * std::sqrt(0.5 * std::pow(10.0, -0.1 * snr_db));
}

Scene comb_take(const std::vector<double>& pitches_hz, double rate_hz, double first_s,
                double step_s, double loudness_db, std::uint64_t seed) {
  Noise noise(seed);
  Scene scene{.rate_hz = rate_hz,
              .seconds = first_s + step_s * static_cast<double>(pitches_hz.size())};
  for (std::size_t i = 0; i < pitches_hz.size(); ++i) {
    Plucked pluck{first_s + step_s * static_cast<double>(i), tooth_rings(pitches_hz[i])};
    const double loudness = std::pow(10.0, 0.05 * loudness_db * noise());
    for (Ring& ring : pluck.rings) ring.amplitude *= loudness;
    scene.plucks.push_back(std::move(pluck));
  }
  return scene;
}

}  // namespace combwright::ear::test
