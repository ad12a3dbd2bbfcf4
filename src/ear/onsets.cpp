// SPDX-License-Identifier: Apache-2.0
#include "ear/onsets.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <complex>

#include <unsupported/Eigen/FFT>

#include "base/angle.h"

namespace combwright::ear {
namespace {

constexpr double frame_s = 0.022;
constexpr std::size_t hops_a_frame = 4;
constexpr double least_over_noise = 40.0;  // in power
constexpr double least_leap = 3.0;         // in power
// What rang is remembered, dying by 60 dB in so long: as slowly as a bass tooth.
constexpr double dying_s = 3.0;

// Powers of overlapping frames, the first of which ends one hop into the samples.
struct Frames {
  std::size_t length = 0;
  std::size_t hop = 0;
  std::size_t bins = 0;
  std::size_t count = 0;
  std::vector<float> power;  // frame by frame

  float at(std::size_t frame, std::size_t bin) const { return power[frame * bins + bin]; }
};

// How many samples are taken together: what is above the teeth and their click needs no look.
std::size_t decimation(double rate_hz) {
  constexpr double least_rate_hz = 22000.0;
  return std::max<std::size_t>(1, static_cast<std::size_t>(rate_hz / least_rate_hz));
}

std::vector<float> decimated(std::span<const double> samples, std::size_t by) {
  std::vector<float> taken(samples.size() / by);
  for (std::size_t i = 0; i < taken.size(); ++i) {
    double sum = 0.0;
    for (std::size_t n = 0; n < by; ++n) sum += samples[i * by + n];
    taken[i] = static_cast<float>(sum / static_cast<double>(by));
  }
  return taken;
}

Frames frames_of(const std::vector<float>& samples, double rate_hz) {
  Frames frames;
  frames.length =
      std::bit_ceil(std::max<std::size_t>(64, static_cast<std::size_t>(0.7 * frame_s * rate_hz)));
  frames.hop = frames.length / hops_a_frame;
  frames.bins = frames.length / 2 + 1;
  frames.count = samples.size() / frames.hop;
  frames.power.resize(frames.count * frames.bins);
  std::vector<float> window(frames.length);
  for (std::size_t n = 0; n < window.size(); ++n) {
    window[n] = static_cast<float>(0.5 - 0.5 * std::cos(two_pi * (static_cast<double>(n) + 0.5) /
                                                        static_cast<double>(window.size())));
  }
  Eigen::FFT<float> fft;
  fft.SetFlag(Eigen::FFT<float>::HalfSpectrum);
  std::vector<float> part(frames.length);
  std::vector<std::complex<float>> spectrum;
  for (std::size_t f = 0; f < frames.count; ++f) {
    const std::size_t end = (f + 1) * frames.hop;
    for (std::size_t n = 0; n < part.size(); ++n) {
      part[n] = end + n < part.size() ? 0.0F : window[n] * samples[end + n - part.size()];
    }
    fft.fwd(spectrum, part);
    for (std::size_t k = 0; k < frames.bins; ++k)
      frames.power[f * frames.bins + k] = std::norm(spectrum[k]);
  }
  return frames;
}

float median(std::vector<float>& values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// The mean power of noise in each bin: the quiet fifth of the time, smoothed over frequency so that
// a tone that never stops counts little.
std::vector<float> floor_of(const Frames& frames) {
  constexpr std::size_t most_frames = 150;
  constexpr double quiet_share = 0.2;
  // An exponential has a fifth of its values below 0.223 of its mean.
  constexpr double quiet_of_mean = 0.2231;
  constexpr std::size_t to_each_side = 16;
  const std::size_t step = std::max<std::size_t>(1, frames.count / most_frames);
  std::vector<float> quiet(frames.bins);
  std::vector<float> values;
  float loudest = 0.0F;
  for (std::size_t k = 0; k < frames.bins; ++k) {
    values.clear();
    for (std::size_t f = 0; f < frames.count; f += step) values.push_back(frames.at(f, k));
    const auto place = static_cast<std::size_t>(quiet_share * static_cast<double>(values.size()));
    const auto chosen = values.begin() + static_cast<std::ptrdiff_t>(place);
    std::nth_element(values.begin(), chosen, values.end());
    quiet[k] = static_cast<float>(static_cast<double>(*chosen) / quiet_of_mean);
    loudest = std::max(loudest, *std::max_element(values.begin(), values.end()));
  }
  std::vector<float> floor(frames.bins);
  for (std::size_t k = 0; k < frames.bins; ++k) {
    const std::size_t low = k < to_each_side ? 0 : k - to_each_side;
    const std::size_t high = std::min(frames.bins, k + to_each_side + 1);
    values.assign(quiet.begin() + static_cast<std::ptrdiff_t>(low),
                  quiet.begin() + static_cast<std::ptrdiff_t>(high));
    // Single precision ends a little above 1e-13 of the loudest.
    floor[k] = std::max(median(values), 1e-11F * loudest);
  }
  return floor;
}

}  // namespace

std::vector<std::size_t> find_onsets(std::span<const double> samples, double full_rate_hz) {
  const std::size_t by = decimation(full_rate_hz);
  const double rate_hz = full_rate_hz / static_cast<double>(by);
  const Frames frames = frames_of(decimated(samples, by), rate_hz);
  std::vector<std::size_t> onsets;
  if (frames.count == 0) return onsets;
  const std::vector<float> floor = floor_of(frames);
  const auto keep = static_cast<float>(
      std::pow(10.0, -6.0 * static_cast<double>(frames.hop) / (dying_s * rate_hz)));
  // What rang until hops_a_frame frames ago, so that no part of a frame is compared with itself.
  std::vector<float> rang(frames.bins, 0.0F);
  bool leapt_before = false;
  std::size_t last = 0;
  for (std::size_t f = 0; f < frames.count; ++f) {
    if (f >= hops_a_frame) {
      for (std::size_t k = 0; k < frames.bins; ++k)
        rang[k] = std::max(frames.at(f - hops_a_frame, k), keep * rang[k]);
    }
    // Without branches, so that several bins are done at once.
    int leaps = 0;
    const float* power = &frames.power[f * frames.bins];
    for (std::size_t k = 1; k + 1 < frames.bins; ++k) {
      const float beside = rang[k - 1] > rang[k + 1] ? rang[k - 1] : rang[k + 1];
      const float reference = rang[k] > beside ? rang[k] : beside;
      leaps += static_cast<int>(power[k] > static_cast<float>(least_over_noise) * floor[k]) &
               static_cast<int>(power[k] > static_cast<float>(least_leap) * reference);
    }
    const bool leaps_now = leaps >= 2;
    const bool settled = onsets.empty() || f > last + hops_a_frame;
    if (leaps_now && !leapt_before && settled) {
      // The window is all but closed to the last eighth of the frame.
      const std::size_t end = (f + 1) * frames.hop;
      const std::size_t lag = frames.length / 8;
      onsets.push_back(end > lag ? by * (end - lag) : 0);
      last = f;
    }
    leapt_before = leaps_now;
  }
  return onsets;
}

}  // namespace combwright::ear
