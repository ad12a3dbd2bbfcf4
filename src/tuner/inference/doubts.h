// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/finding.h"
#include "tuner/inference/posterior.h"
#include "tuner/tune.h"

namespace combwright::tuner {

// What looks wrong with a tooth, its readings or the lengths noted with them; a fault if nothing
// should be taken off it before that is cleared. `heard` are the readings in cents above the
// target.
Findings doubts(const ToothOf& tooth, const Prior& prior, const std::vector<Reading>& readings,
                const std::vector<Posterior::Heard>& heard, const Posterior& known,
                const std::string& where);

}  // namespace combwright::tuner
