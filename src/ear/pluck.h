// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "base/finding.h"

namespace combwright::ear {

// The own (first) mode of a tooth as it was heard.
struct OwnMode {
  double frequency_hz = 0.0;
  // One standard deviation by what was heard: noise, and how far it is no decaying sinusoid.
  double stderr_hz = 0.0;
  double amplitude = 0.0;  // at the onset, of full scale
  double decay_s = 0.0;    // in which the amplitude falls to 1 / e
};

// One of its higher modes.
struct Partial {
  double frequency_hz = 0.0;
  double stderr_hz = 0.0;
  double decay_s = 0.0;
  double level_db = 0.0;  // at the onset, over the own mode's
};

// One pluck of a recording: one tooth, or two that were plucked together.
struct HeardPluck {
  double onset_s = 0.0;           // from the recording's start
  std::vector<OwnMode> own;       // the strongest first; two of a pair; none if nothing was heard
  std::vector<Partial> partials;  // by frequency
  std::vector<double> rings_hz;   // all that sounds but the mains, those among it
  bool sure = false;              // false if a finding says why not to trust it
  Findings findings;
};

}  // namespace combwright::ear
