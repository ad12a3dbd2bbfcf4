// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace combwright::ear {

// A recording as it was read.
struct Recording {
  double rate_hz = 0.0;
  std::vector<std::vector<double>> channels;  // all of one length; 1 is full scale
  std::string format;                         // "WAV, 24 bit"
  bool cut_short = false;  // the file was to be longer, or is damaged from here on

  std::size_t frames() const { return channels.empty() ? 0 : channels.front().size(); }
  double seconds() const { return static_cast<double>(frames()) / rate_hz; }
};

}  // namespace combwright::ear
