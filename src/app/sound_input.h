// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/file.h"
#include "base/finding.h"
#include "records/records.h"

namespace combwright::app {

// What was listened to.
struct Listened {
  std::string file;
  std::string sha256;  // of its bytes
  std::string format;  // "WAV, 24 bit"
  double rate_hz = 0.0;
  double seconds = 0.0;
  std::size_t channel = 0;
  std::size_t channels = 0;
  std::optional<double> temperature_c;
};

struct SoundInput {
  Listened listened;
  std::vector<double> samples;  // of the channel
  Findings findings;            // of the file
};

// Reads a recording and chooses its channel; the temperature is an option's text. Throws Error with
// its place if the file is missing or wrong.
SoundInput load_sound(const std::string& path, const std::string& temperature);

// The same of a file's bytes at hand; `name` stands for it in messages and records.
SoundInput sound_input(const Bytes& bytes, const std::string& name, const std::string& temperature);

// What the records keep of it.
records::Recording to_record(const Listened& listened, const std::string& settings);

}  // namespace combwright::app
