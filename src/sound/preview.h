// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "box/box.h"
#include "disc/disc.h"

namespace combwright::sound {

struct PreviewOptions {
  int sample_rate_hz = 48000;
  double tail_s = 3.0;      // after the end of the turn
  double peak_dbfs = -1.0;  // the loudest sample after scaling
};

struct Preview {
  int sample_rate_hz = 48000;
  std::vector<float> left, right;
  double peak_dbfs = 0.0;
};

// One turn of the disc as modal synthesis: each tooth (of each comb) at its note with the partials
// of a clamped-free beam, decays by pitch, damped just before it is plucked again.
Preview preview(const box::Box& box, const disc::Disc& disc, const PreviewOptions& options = {});

}  // namespace combwright::sound
