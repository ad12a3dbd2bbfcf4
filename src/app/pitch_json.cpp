// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "app/pitch_answers.h"
#include "disc/plan_json.h"
#include "ear/reference.h"
#include "music/pitch.h"
#include "steel/tuning.h"

namespace combwright::app {
namespace {

double spread_cents(const ear::OwnMode& own, const Listened& listened) {
  return ear::pitch_spread_cents(own, steel::cents_per_k(), listened.temperature_c.has_value());
}

Json components(const ear::HeardPluck& pluck) {
  Json list = Json::array();
  for (const ear::OwnMode& own : pluck.own) {
    list.push_back({{"frequency_hz", own.frequency_hz},
                    {"stderr_hz", own.stderr_hz},
                    {"amplitude", own.amplitude},
                    {"decay_s", own.decay_s}});
  }
  return list;
}

Json partials(const ear::HeardPluck& pluck) {
  Json list = Json::array();
  for (const ear::Partial& partial : pluck.partials) {
    list.push_back({{"frequency_hz", partial.frequency_hz},
                    {"stderr_hz", partial.stderr_hz},
                    {"decay_s", partial.decay_s},
                    {"level_db", partial.level_db}});
  }
  return list;
}

void put_pluck(Json& json, const ear::HeardPluck& pluck, const Listened& listened) {
  const auto note = music::nearest_note(pluck.own[0].frequency_hz);
  json["components"] = components(pluck);
  json["note"] = note ? Json(music::note_name(note->midi)) : Json(nullptr);
  json["offset_cents"] = note ? Json(note->offset_cents) : Json(nullptr);
  json["stderr_cents"] = spread_cents(pluck.own[0], listened);
  json["partials"] = partials(pluck);
  json["onset_s"] = pluck.onset_s;
  json["sure"] = pluck.sure;
}

void put_listened(Json& json, const Listened& listened) {
  json["file"] = listened.file;
  json["sha256"] = listened.sha256;
  json["format"] = listened.format;
  json["rate_hz"] = listened.rate_hz;
  json["duration_s"] = listened.seconds;
  json["channel"] = listened.channel + 1;
  json["temperature_c"] = listened.temperature_c ? Json(*listened.temperature_c) : Json(nullptr);
}

Json tooth_json(const TakeAnswer& answer, std::size_t t) {
  const steel::CombTooth& tooth = answer.design->teeth[t];
  const std::optional<ear::HeardPluck>& pluck = answer.take.teeth[t].pluck;
  Json json = {{"comb", answer.design->name},
               {"track", tooth.track},
               {"note", music::note_name(tooth.midi)},
               {"midi", tooth.midi},
               {"target_hz", answer.ranges[t].target_hz},
               {"state", !pluck        ? "missing"
                         : pluck->sure ? "heard"
                                       : "doubtful"}};
  if (!pluck) {
    for (const char* key :
         {"frequency_hz", "stderr_hz", "offset_cents", "stderr_cents", "decay_s", "onset_s"})
      json[key] = nullptr;
    json["partials"] = Json::array();
    json["findings"] = Json::array();
    return json;
  }
  const ear::OwnMode& own = pluck->own[0];
  json["frequency_hz"] = own.frequency_hz;
  json["stderr_hz"] = own.stderr_hz;
  json["offset_cents"] = music::cents(own.frequency_hz / answer.ranges[t].target_hz);
  json["stderr_cents"] = spread_cents(own, answer.listened);
  json["decay_s"] = own.decay_s;
  json["onset_s"] = pluck->onset_s;
  json["partials"] = partials(*pluck);
  json["findings"] = disc::to_json(pluck->findings);
  return json;
}

}  // namespace

Json to_json(const PitchAnswer& answer) {
  Json json;
  if (answer.surest) {
    const ear::HeardPluck& pluck = answer.plucks[*answer.surest];
    put_pluck(json, pluck, answer.listened);
    if (answer.pair) {
      json["beat_hz"] = pluck.own.size() == 2
                            ? Json(std::abs(pluck.own[0].frequency_hz - pluck.own[1].frequency_hz))
                            : Json(nullptr);
    }
  } else {
    json["components"] = Json::array();
  }
  json["plucks"] = Json::array();
  for (const ear::HeardPluck& pluck : answer.plucks) {
    Json one;
    put_pluck(one, pluck, answer.listened);
    one["findings"] = disc::to_json(pluck.findings);
    json["plucks"].push_back(one);
  }
  put_listened(json, answer.listened);
  json["findings"] = disc::to_json(all_findings(answer));
  return json;
}

Json to_json(const TakeAnswer& answer) {
  Json json = {{"box", answer.box}, {"comb", answer.design->name}};
  json["teeth"] = Json::array();
  for (std::size_t t = 0; t < answer.take.teeth.size(); ++t)
    json["teeth"].push_back(tooth_json(answer, t));
  json["backwards"] = answer.take.backwards;
  json["extra"] = Json::array();
  for (const ear::HeardPluck& pluck : answer.take.extra)
    json["extra"].push_back(
        {{"onset_s", pluck.onset_s}, {"frequency_hz", pluck.own[0].frequency_hz}});
  put_listened(json, answer.listened);
  if (answer.filed) json["filed"] = *answer.filed;
  json["findings"] = disc::to_json(all_findings(answer));
  return json;
}

}  // namespace combwright::app
