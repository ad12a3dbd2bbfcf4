// SPDX-License-Identifier: Apache-2.0
#include "app/heard_reading.h"

#include "ear/reference.h"
#include "steel/tuning.h"

namespace combwright::app {

records::Reading to_reading(const ear::HeardPluck& pluck, const Listened& listened,
                            const std::string& settings, const Reader& reader) {
  const ear::OwnMode& own = pluck.own.front();
  records::Reading reading{.frequency_hz = own.frequency_hz,
                           .stderr_hz = own.stderr_hz,
                           .decay_s = own.decay_s,
                           .partials = {},
                           .temperature_c = listened.temperature_c,
                           .onset_s = pluck.onset_s,
                           .recording = to_record(listened, settings),
                           .who = reader.who,
                           .at = reader.at,
                           .remark = reader.remark};
  for (const ear::Partial& partial : pluck.partials)
    reading.partials.push_back({partial.frequency_hz, partial.decay_s, partial.level_db});
  return reading;
}

tuner::Reading to_tuner(const records::Reading& reading, const std::vector<records::Work>& work) {
  ear::HeardPluck pluck;
  pluck.own = {{reading.frequency_hz, reading.stderr_hz, 1.0, reading.decay_s.value_or(1.0)}};
  for (const records::ReadPartial& partial : reading.partials)
    pluck.partials.push_back({partial.frequency_hz, 0.0, 1.0, 0.0});
  pluck = ear::at_reference(pluck, steel::cents_per_k(), reading.temperature_c);
  const ear::OwnMode& own = pluck.own.front();
  tuner::Reading at_20{.frequency_hz = own.frequency_hz,
                       .stderr_hz = ear::pitch_spread_hz(own, steel::cents_per_k(),
                                                         reading.temperature_c.has_value()),
                       .since = {},
                       .decay_s = reading.decay_s,
                       .partials_hz = {}};
  for (const ear::Partial& partial : pluck.partials)
    at_20.partials_hz.push_back(partial.frequency_hz);
  for (const records::Work& done : work) {
    double& taken = done.kind == records::WorkKind::clip        ? at_20.since.clip_m
                    : done.kind == records::WorkKind::file_root ? at_20.since.file_root_m
                                                                : at_20.since.file_tip_m;
    taken += done.length_m;
  }
  return at_20;
}

}  // namespace combwright::app
