// SPDX-License-Identifier: Apache-2.0
#include "app/heard_reading.h"

#include <cmath>

#include "base/reference.h"
#include "ear/reference.h"
#include "records/offset.h"
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

// What the temperature of a tooth changes from reading to reading while work goes on: some tenths
// of a kelvin (common practice, no source).
constexpr double changing_cents = 0.05;

tuner::Reading to_tuner(const records::Reading& reading, const std::vector<records::Work>& work) {
  const double at_20_hz = records::frequency_hz_at(reading, reference_c);
  tuner::Reading result{
      .frequency_hz = at_20_hz,
      .stderr_hz =
          reading.stderr_hz > 0.0
              ? std::hypot(reading.stderr_hz, at_20_hz * (std::exp2(changing_cents / 1200.0) - 1.0))
              : 0.0,
      .common_cents = common_spread_cents(steel::cents_per_k(), reading.temperature_c.has_value()),
      .since = {.clip_m = records::taken_m(work, records::WorkKind::clip),
                .file_tip_m = records::taken_m(work, records::WorkKind::file_tip),
                .file_root_m = records::taken_m(work, records::WorkKind::file_root)},
      .decay_s = reading.decay_s,
      .partials_hz = {}};
  for (const records::ReadPartial& partial : reading.partials)
    result.partials_hz.push_back(partial.frequency_hz * at_20_hz / reading.frequency_hz);
  return result;
}

}  // namespace combwright::app
