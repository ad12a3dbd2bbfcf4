// SPDX-License-Identifier: Apache-2.0
#include "ear/channel.h"

#include <vector>

#include "ear/clipping.h"

namespace combwright::ear {
namespace {

// Mean square about the mean.
double power_of(const std::vector<double>& samples) {
  double sum = 0.0;
  double squares = 0.0;
  for (const double sample : samples) {
    sum += sample;
    squares += sample * sample;
  }
  const auto count = static_cast<double>(samples.size());
  return count == 0.0 ? 0.0 : squares / count - sum / count * (sum / count);
}

}  // namespace

std::size_t best_channel(const Recording& recording) {
  // A good channel may be 30 dB fainter than a clipped one.
  constexpr double worth_if_clipped = 1e-3;
  if (recording.channels.size() < 2) return 0;
  std::size_t best = 0;
  double most = -1.0;
  for (std::size_t c = 0; c < recording.channels.size(); ++c) {
    const std::vector<double>& samples = recording.channels[c];
    const double worth =
        power_of(samples) * (clipped_samples(samples).empty() ? 1.0 : worth_if_clipped);
    if (worth > most) {
      most = worth;
      best = c;
    }
  }
  return best;
}

}  // namespace combwright::ear
