// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/json.h"
#include "tuner/tune.h"

// The two answers of `clip`, without findings and cautions.
namespace combwright::app {

Json to_json(const tuner::ToothOf& tooth, const tuner::Tuning& tuning,
             const std::vector<tuner::Reading>& readings);

// What to do first, then what it is told from. `doubtful` if the last recording is.
std::string clip_text(const tuner::ToothOf& tooth, const tuner::Tuning& tuning,
                      const std::vector<tuner::Reading>& readings, bool doubtful);

}  // namespace combwright::app
