// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "app/inputs.h"
#include "base/finding.h"
#include "steel/comb.h"
#include "tuner/reading.h"

namespace combwright::app {

// Where the readings of a tooth come from, as the command line has it; empty is not given.
struct ReadingSources {
  std::string file;                     // of readings (JSON)
  std::string db;                       // the records
  std::vector<std::string> recordings;  // of plucks, in order
  std::vector<std::string> clipped;     // before each recording, or between them
  std::string filed_root;               // before the first recording
  std::string filed_tip;                // likewise
  std::string temperature;              // of the recordings
  std::string who;
  std::string remark;
};

// All readings of the tooth at 20 C in order: those of the file, those of the records, those heard
// now. What is heard now is in the records before this returns. What is doubtful is neither filed
// nor counted, unless it is all that is known; a fault says so if it was the last. Throws Error if
// there are none, or if a recording holds no pluck.
struct ToothReadings {
  std::vector<tuner::Reading> readings;
  bool doubtful = false;            // the last recording
  std::vector<std::int64_t> filed;  // numbers that the records gave to what is heard now
  Findings findings;
};
ToothReadings tooth_readings(const ReadingSources& sources, const BoxInput& input,
                             const steel::CombDesign& design, std::size_t comb, std::size_t tooth);

}  // namespace combwright::app
