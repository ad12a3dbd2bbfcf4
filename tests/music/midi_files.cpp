// SPDX-License-Identifier: Apache-2.0
#include "music/midi_files.h"

#include "base/error.h"

namespace combwright::music::by_hand {

std::string error_of(const Bytes& file) {
  try {
    read(file);
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

std::vector<std::string> findings_of(const Tune& tune) {
  std::vector<std::string> texts;
  for (const Finding& finding : tune.findings)
    if (finding.what != "there is no tempo; 120/min was taken")
      texts.push_back(std::string(to_text(finding.level)) + ": " + finding.what);
  return texts;
}

}  // namespace combwright::music::by_hand
