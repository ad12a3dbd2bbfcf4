// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

namespace combwright::ear {

// How loud a stretch of live sound is, for whoever sets the level.
enum class Loudness {
  no_signal,  // nothing but zeros, as from a microphone that is switched off
  quiet,      // below what a pluck should reach
  good,
  high,     // over half of full scale: the strongest pluck may be clipped
  clipped,  // at full scale
};

struct SoundLevel {
  double peak = 0.0;  // of full scale
  Loudness loudness = Loudness::no_signal;
};

// The rules are those of docs/measuring.md.
SoundLevel level_of(std::span<const double> samples);

}  // namespace combwright::ear
