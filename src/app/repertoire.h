// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "arrange/scale_plan.h"
#include "base/finding.h"
#include "base/watch.h"
#include "box/box.h"

namespace combwright::app {

// What a turn of the box holds of each tune.
struct Repertoire {
  std::vector<arrange::RepertoireTune> tunes;
  Findings findings;  // of the tunes left out
};

// Reads files as named and all tunes of the folders named. A tune that lies in a folder and can't
// be read or arranged is left out with a finding. Throws Error if one that is named can't, if none
// is left, or if there are too many; Cancelled if stopped.
Repertoire read_repertoire(const std::vector<std::string>& named, const box::Box& box,
                           const Watch& watch = {});

}  // namespace combwright::app
