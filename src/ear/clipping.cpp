// SPDX-License-Identifier: Apache-2.0
#include "ear/clipping.h"

#include <algorithm>
#include <cmath>

namespace combwright::ear {
namespace {

constexpr double least_ceiling = 0.01;     // of full scale: coarse steps are flat at every crest
constexpr double least_slope = 2e-4;       // of the extreme, in one sample
constexpr double least_slope_steps = 4.0;  // of the sample format's step
constexpr std::size_t least_flat = 3;
constexpr std::size_t least_times = 3;

// The least step between neighbouring samples, or 0.
double step_of(std::span<const double> samples) {
  double step = 0.0;
  for (std::size_t n = 1; n < samples.size(); ++n) {
    const double change = std::abs(samples[n] - samples[n - 1]);
    if (change > 0.0 && (step == 0.0 || change < step)) step = change;
  }
  return step;
}

// Flats at one extreme.
void add_flats(std::span<const double> samples, double extreme, double least_drop,
               std::vector<std::size_t>& found) {
  std::vector<std::size_t> flats;
  std::size_t times = 0;
  for (std::size_t n = 0; n < samples.size();) {
    std::size_t end = n;
    while (end < samples.size() && samples[end] == extreme) ++end;
    if (end == n) {
      ++n;
      continue;
    }
    const double before = n > 0 ? std::abs(extreme - samples[n - 1]) : 0.0;
    const double after = end < samples.size() ? std::abs(extreme - samples[end]) : 0.0;
    if (end - n >= least_flat && std::max(before, after) > least_drop) {
      ++times;
      for (; n < end; ++n) flats.push_back(n);
    }
    n = end;
  }
  if (times >= least_times) found.insert(found.end(), flats.begin(), flats.end());
}

}  // namespace

std::vector<std::size_t> clipped_samples(std::span<const double> samples) {
  std::vector<std::size_t> found;
  if (samples.empty()) return found;
  const auto [low, high] = std::minmax_element(samples.begin(), samples.end());
  const double step = step_of(samples);
  for (const double extreme : {*low, *high}) {
    if (std::abs(extreme) >= least_ceiling)
      add_flats(samples, extreme,
                std::max(least_slope * std::abs(extreme), least_slope_steps * step), found);
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace combwright::ear
