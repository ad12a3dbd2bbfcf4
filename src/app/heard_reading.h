// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "app/sound_input.h"
#include "ear/pluck.h"
#include "records/records.h"
#include "tuner/reading.h"

// A pluck that was heard, as the records and the tuner take it.
namespace combwright::app {

// Who reads, when, and what there is to say of it.
struct Reader {
  std::string who;
  std::string at;
  std::string remark;
};

// Of the first tooth of the pluck, as it was heard.
records::Reading to_reading(const ear::HeardPluck& pluck, const Listened& listened,
                            const std::string& settings, const Reader& reader);

// At 20 C; clock and temperature are what it shares with the tooth's other readings.
tuner::Reading to_tuner(const records::Reading& reading, const std::vector<records::Work>& work);

}  // namespace combwright::app
