// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include <CLI/App.hpp>

#include "arrange/arrange.h"

namespace combwright::app {

// The options of every command that arranges, as typed; empty where not given.
struct ArrangeTexts {
  std::string bars;
  std::string transpose;
  std::string tempo;
  std::string melody;
  std::vector<std::string> locks;

  bool nothing() const {
    return bars.empty() && transpose.empty() && tempo.empty() && melody.empty() && locks.empty();
  }
};

// --bars A-B, --transpose N, --tempo F, --melody PART, --lock NOTE
void add_arrange_options(CLI::App& command, ArrangeTexts& texts);

// Throws Error naming the option and what would be right.
arrange::Options parsed(const ArrangeTexts& texts);

}  // namespace combwright::app
