// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <vector>

#include "music/pitch.h"
#include "sound/partials.h"
#include "sound/preview.h"

namespace combwright::sound::test {

struct Reference {
  std::vector<double> left, right;
};

// The model that sound/preview.h states, one sine and one exponential a sample, in double. A
// partial ends where its amplitude falls below `least`.
inline Reference reference(const box::Box& box, const std::vector<steel::CombDesign>& combs,
                           const disc::Disc& disc, const PreviewOptions& options,
                           double least = 1e-17) {
  const double rate = options.sample_rate_hz;
  const auto size = static_cast<std::size_t>(std::ceil((disc.turn_time_s + options.tail_s) * rate));
  Reference result{std::vector<double>(size), std::vector<double>(size)};

  double loudest_n = 0.0;
  for (const auto& comb : combs) {
    for (const auto& tooth : comb.teeth)
      loudest_n = std::max(loudest_n, partials(tooth.in_tune, tooth.lift_m)[0].force_n);
  }

  std::map<int, std::vector<double>> plucks;
  for (const auto& projection : disc.projections)
    plucks[projection.track].push_back(projection.time_s);
  for (auto& [number, times] : plucks) {
    std::sort(times.begin(), times.end());
    times.push_back(std::numeric_limits<double>::infinity());
    const double place =
        box.tracks.count > 1 ? (number - 1.0) / (box.tracks.count - 1.0) - 0.5 : 0.0;
    const double angle = std::numbers::pi / 4 + 2 * widest_pan_rad * place;
    for (std::size_t k = 0; k + 1 < times.size(); ++k) {
      const double damped_s = std::max(times[k], times[k + 1] - box.damper.lead_time_s);
      for (const auto& comb : combs) {
        const auto& tooth = comb.teeth[number - 1];
        for (const auto& partial : partials(tooth.in_tune, tooth.lift_m)) {
          if (partial.frequency_hz > std::min(highest_partial_hz, 0.45 * rate)) continue;
          for (auto i = static_cast<std::size_t>(std::ceil(times[k] * rate)); i < size; ++i) {
            const double t = static_cast<double>(i) / rate;
            const double loss =
                partial.decay_per_s * (t - times[k]) + std::max(0.0, t - damped_s) / damper_decay_s;
            const double amplitude = partial.force_n / loudest_n * std::exp(-loss);
            if (amplitude < least) break;
            const double sample =
                amplitude * std::sin(2 * std::numbers::pi * partial.frequency_hz * (t - times[k]));
            result.left[i] += std::cos(angle) * sample;
            result.right[i] += std::sin(angle) * sample;
          }
        }
      }
    }
  }

  const double fade = std::floor(std::min(fade_s, options.tail_s) * rate);
  double peak = 0.0;
  for (std::size_t i = 0; i < size; ++i) {
    const auto remaining = static_cast<double>(size - 1 - i);
    const double gain = remaining < fade ? remaining / fade : 1.0;
    result.left[i] *= gain;
    result.right[i] *= gain;
    peak = std::max({peak, std::abs(result.left[i]), std::abs(result.right[i])});
  }
  for (std::size_t i = 0; i < size; ++i) {
    const double gain = std::pow(10.0, options.peak_dbfs / 20) / peak;
    result.left[i] *= gain;
    result.right[i] *= gain;
  }
  return result;
}

// Largest difference of any sample.
inline double largest_difference(const Preview& preview, const Reference& reference) {
  double worst = 0.0;
  for (std::size_t i = 0; i < preview.left.size(); ++i)
    worst = std::max({worst, std::abs(preview.left[i] - reference.left[i]),
                      std::abs(preview.right[i] - reference.right[i])});
  return worst;
}

}  // namespace combwright::sound::test
