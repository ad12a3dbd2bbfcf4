// SPDX-License-Identifier: Apache-2.0
#include "app/sound_input.h"

#include <utility>

#include <fmt/format.h>

#include "app/temperature_option.h"
#include "base/file.h"
#include "ear/channel.h"
#include "ear/recording_reader.h"

namespace combwright::app {

SoundInput load_sound(const std::string& path, const std::string& temperature) {
  // Before a long file is read.
  temperature_option(temperature);
  return sound_input(read_file(path, ear::max_recording_bytes), path, temperature);
}

SoundInput sound_input(const Bytes& bytes, const std::string& name,
                       const std::string& temperature) {
  const std::optional<double> temperature_c = temperature_option(temperature);
  ear::Recording recording = ear::read_recording(bytes, name);
  SoundInput input{.listened = {.file = name,
                                .sha256 = sha256(as_text(bytes)),
                                .format = recording.format,
                                .rate_hz = recording.rate_hz,
                                .seconds = recording.seconds(),
                                .channel = ear::best_channel(recording),
                                .channels = recording.channels.size(),
                                .temperature_c = temperature_c},
                   .samples = {},
                   .findings = {}};
  input.samples = std::move(recording.channels[input.listened.channel]);
  if (recording.cut_short)
    input.findings.push_back({Level::warning, "",
                              "the file is cut short or damaged; what is there is used",
                              "copy it from the recorder again"});
  return input;
}

records::Recording to_record(const Listened& listened, const std::string& settings) {
  return {.file = listened.file,
          .sha256 = listened.sha256,
          .rate_hz = listened.rate_hz,
          .channels = static_cast<int>(listened.channels),
          .settings = fmt::format("channel {}{}{}", listened.channel + 1,
                                  settings.empty() ? "" : ", ", settings)};
}

}  // namespace combwright::app
