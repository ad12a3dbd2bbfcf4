// SPDX-License-Identifier: Apache-2.0
#include "app/answers.h"

namespace combwright::app {
namespace {

Json note_json(const arrange::ArrangedNote& note) {
  Json json = {{"index", note.index},           {"onset_s", note.onset_s},
               {"duration_s", note.duration_s}, {"midi", note.midi},
               {"weight", note.weight},         {"role", to_text(note.role)},
               {"fate", to_text(note.fate)}};
  if (note.fate != arrange::Fate::kept) json["why"] = note.why;
  json["bar"] = note.bar;
  json["beat"] = note.beat;
  json["part"] = note.part;
  if (note.locked) json["locked"] = true;
  return json;
}

Json trial_json(const arrange::Trial& trial) {
  Json json = {{"transpose_semitones", trial.transpose_semitones},
               {"tempo_factor", trial.tempo_factor},
               {"bound", trial.bound}};
  json["fidelity"] = trial.fidelity ? Json(*trial.fidelity) : Json(nullptr);
  return json;
}

}  // namespace

Json to_json(const std::vector<arrange::Trial>& trials) {
  return array_of(trials, trial_json);
}

Json to_json(const arrange::Arrangement& arrangement) {
  Json json = {{"box", arrangement.box_name},
               {"title", arrangement.title},
               {"transpose_semitones", arrangement.transpose_semitones},
               {"tempo_factor", arrangement.tempo_factor},
               {"turn_time_s", arrangement.turn_time_s},
               {"first_bar", arrangement.first_bar},
               {"last_bar", arrangement.last_bar},
               {"fidelity", arrangement.fidelity},
               {"fidelity_bound", arrangement.fidelity_bound}};
  json["tracks"] = array_of(arrangement.tracks, [](const arrange::TrackUse& track) {
    return Json{{"track", track.track},
                {"midi", track.midi},
                {"radius_m", track.radius_m},
                {"min_interval_s", track.min_interval_s}};
  });
  json["notes"] = array_of(arrangement.notes, note_json);
  json["plucks"] = array_of(arrangement.plucks, [](const arrange::Pluck& pluck) {
    return Json{{"time_s", pluck.time_s}, {"track", pluck.track}, {"note", pluck.note}};
  });
  json["trials"] = to_json(arrangement.trials);
  return json;
}

std::string line_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string page_of(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace combwright::app
