// SPDX-License-Identifier: Apache-2.0
#include "app/log_answers.h"
#include "music/pitch.h"
#include "records/offset.h"

namespace combwright::app {
namespace {

Json recording_json(const records::Recording& recording) {
  return {{"file", recording.file},
          {"sha256", recording.sha256},
          {"rate_hz", recording.rate_hz},
          {"channels", recording.channels},
          {"settings", recording.settings}};
}

Json summary_json(const records::ToothSummary& tooth) {
  Json json = {{"track", tooth.tooth.track},
               {"note", music::note_name(tooth.tooth.midi)},
               {"target_hz", tooth.tooth.target_hz},
               {"readings", tooth.readings}};
  json["as_cut_cents"] = or_null(tooth.as_cut_cents);
  json["final_cents"] = or_null(tooth.final_cents);
  json["stderr_cents"] = tooth.final_cents ? Json(tooth.final_stderr_cents) : Json(nullptr);
  json["decay_s"] = or_null(tooth.decay_s);
  json["temperature_c"] = or_null(tooth.temperature_c);
  json["clipped_length_m"] = tooth.clipped_length_m;
  json["filed"] = tooth.filed;
  return json;
}

}  // namespace

Json to_json(const records::FiledComb& comb) {
  Json json = {{"box", comb.plan.box},
               {"comb", comb.plan.comb},
               {"comb_number", comb.number},
               {"box_sha256", comb.plan.box_sha256},
               {"in_tune_c", comb.plan.in_tune_c},
               {"teeth", comb.plan.teeth.size()},
               {"teeth_read", comb.teeth_read}};
  json["scrapped_at"] = comb.scrapped_at.empty() ? Json(nullptr) : Json(comb.scrapped_at);
  json["scrapped_why"] = comb.scrapped_why;
  return json;
}

Json to_json(const std::vector<records::ToothSummary>& teeth) {
  return array_of(teeth, summary_json);
}

Json to_json(const records::FiledReading& filed) {
  const records::Reading& reading = filed.reading;
  Json json = {{"number", filed.number},
               {"box", filed.box},
               {"box_sha256", filed.box_sha256},
               {"comb", filed.comb},
               {"comb_number", filed.comb_number},
               {"track", filed.tooth.track},
               {"note", music::note_name(filed.tooth.midi)},
               {"midi", filed.tooth.midi},
               {"target_hz", filed.tooth.target_hz},
               {"frequency_hz", reading.frequency_hz},
               {"stderr_hz", reading.stderr_hz},
               {"offset_cents", records::offset_cents(filed)},
               {"stderr_cents", records::stderr_cents(filed)}};
  json["decay_s"] = or_null(reading.decay_s);
  json["temperature_c"] = or_null(reading.temperature_c);
  json["clipped_length_m"] = records::taken_m(filed.work, records::WorkKind::clip);
  json["work"] = array_of(filed.work, [](const records::Work& work) {
    return Json{{"do", records::to_text(work.kind)}, {"length_m", work.length_m}};
  });
  json["partials"] = array_of(reading.partials, [](const records::ReadPartial& partial) {
    return Json{{"frequency_hz", partial.frequency_hz},
                {"decay_s", or_null(partial.decay_s)},
                {"level_db", or_null(partial.level_db)}};
  });
  json["onset_s"] = or_null(reading.onset_s);
  json["recording"] = reading.recording ? recording_json(*reading.recording) : Json(nullptr);
  json["who"] = reading.who;
  json["at"] = reading.at;
  json["remark"] = reading.remark;
  json["struck"] = filed.struck.empty() ? Json(nullptr) : Json(filed.struck);
  json["work_struck"] = filed.work_struck;
  return json;
}

Json to_json(const records::FiledTest& filed) {
  return {{"number", filed.number},
          {"box", filed.test.box},
          {"who", filed.test.who},
          {"at", filed.test.at},
          {"remark", filed.test.remark}};
}

Json to_json(const RecordsList& list) {
  const auto make = [](const auto& filed) { return to_json(filed); };
  Json json;
  json["combs"] = array_of(list.combs, make);
  json["readings"] = array_of(list.readings, make);
  json["tests"] = array_of(list.tests, make);
  return json;
}

Json to_json(const records::Counts& counts) {
  return {{"boxes", counts.boxes},       {"combs", counts.combs},
          {"teeth", counts.teeth},       {"recordings", counts.recordings},
          {"readings", counts.readings}, {"work", counts.work},
          {"tests", counts.tests}};
}

Json to_json(const draw::Certificate& certificate) {
  Json json = {{"box", certificate.box},
               {"comb", certificate.comb},
               {"in_tune_c", certificate.in_tune_c},
               {"tolerance_cents", certificate.tolerance_cents}};
  json["teeth"] = to_json(certificate.teeth);
  json["not_read"] = draw::tracks_not_read(certificate);
  json["out_of_tolerance"] = draw::tracks_out_of_tolerance(certificate);
  json["people"] = certificate.people;
  return json;
}

}  // namespace combwright::app
