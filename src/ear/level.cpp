// SPDX-License-Identifier: Apache-2.0
#include "ear/level.h"

#include <algorithm>
#include <cmath>

namespace combwright::ear {
namespace {

constexpr double low_peak = 0.003;  // -50 dB
constexpr double high_peak = 0.5;
constexpr double clipped_peak = 0.999;

}  // namespace

SoundLevel level_of(std::span<const double> samples) {
  SoundLevel level;
  for (const double sample : samples) level.peak = std::max(level.peak, std::abs(sample));
  if (level.peak >= clipped_peak)
    level.loudness = Loudness::clipped;
  else if (level.peak > high_peak)
    level.loudness = Loudness::high;
  else if (level.peak >= low_peak)
    level.loudness = Loudness::good;
  else if (level.peak > 0.0)
    level.loudness = Loudness::quiet;
  return level;
}

}  // namespace combwright::ear
