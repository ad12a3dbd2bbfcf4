// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "arrange/scale_plan.h"

namespace combwright::app {

// What is wished of a scale, as typed; empty where nothing is.
struct ScaleTexts {
  std::string teeth;
  std::string lowest;
  std::string highest;
};

// Throws Error naming the option and what would be right.
arrange::ScaleOptions parsed(const ScaleTexts& texts);

}  // namespace combwright::app
