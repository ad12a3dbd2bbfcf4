// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/json.h"
#include "app/sound_input.h"
#include "base/finding.h"
#include "ear/pluck.h"
#include "ear/take.h"
#include "steel/comb.h"
#include "steel/pitch_range.h"

// The two answers of `pitch`.
namespace combwright::app {

// Plucks of single teeth or pairs.
struct PitchAnswer {
  Listened listened;
  std::vector<ear::HeardPluck> plucks;
  std::optional<std::size_t> surest;  // the one that answers
  bool pair = false;                  // two teeth were listened for
  Findings findings;                  // of the recording
};

Json to_json(const PitchAnswer& answer);
std::string pitch_text(const PitchAnswer& answer);

// A comb, tooth after tooth.
struct TakeAnswer {
  Listened listened;
  std::string box;
  const steel::CombDesign* design = nullptr;
  std::vector<steel::PitchRange> ranges;
  ear::Take take;
  std::optional<std::size_t> filed;  // readings, if there are records to file them in
};

Json to_json(const TakeAnswer& answer);
std::string take_text(const TakeAnswer& answer);

// Of the recording and of the pluck that answers, or of every tooth.
Findings all_findings(const PitchAnswer& answer);
Findings all_findings(const TakeAnswer& answer);

}  // namespace combwright::app
