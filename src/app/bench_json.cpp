// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "app/bench_job.h"
#include "app/clip_answers.h"
#include "app/log_answers.h"
#include "disc/plan_json.h"
#include "music/pitch.h"
#include "records/standing.h"
#include "tuner/worked.h"

namespace combwright::app {
namespace {

Json stretch_json(const tuner::Stretch& stretch) {
  return {{"from_m", stretch.from_m}, {"to_m", stretch.to_m}};
}

Json sections_json(const steel::Tooth& tooth) {
  Json sections = Json::array();
  for (const steel::Section& section : tooth.sections)
    sections.push_back({{"length_m", section.length_m},
                        {"root_thickness_m", section.root_thickness_m},
                        {"tip_thickness_m", section.tip_thickness_m}});
  return sections;
}

// The tooth as it likely is now, seen from the side, and where to cut.
Json picture_json(const tuner::ToothOf& of, const ToothState& state) {
  const steel::CombTooth& tooth = of.designs[of.comb].teeth[of.tooth];
  tuner::TakenOff off;
  for (const tuner::Reading& reading : state.readings)
    for (const tuner::Work work : tuner::works)
      tuner::part(off, work) += tuner::part(reading.since, work);
  if (tooth.leaded() && state.tuning)
    off.clip_m = tooth.as_cut.leads.front().length_m - state.tuning->weight_left_m;
  Json json = {{"length_m", steel::length_m(tooth.as_cut)},
               {"sections", sections_json(tuner::worked(tooth, off))},
               {"weight", nullptr},
               {"cut", nullptr}};
  if (tooth.leaded()) {
    const tuner::Stretch as_cut = tuner::stretch(tooth, tuner::Work::clip);
    json["weight"] = {{"from_m", as_cut.from_m},
                      {"to_m", as_cut.to_m - off.clip_m},
                      {"as_cut_to_m", as_cut.to_m},
                      {"height_m", tooth.as_cut.leads.front().height_m}};
  }
  if (state.tuning && state.tuning->advice.work) {
    const tuner::Advice& advice = state.tuning->advice;
    json["cut"] = stretch_json(tuner::next_cut(tooth, off, *advice.work, advice.amount_m));
  }
  return json;
}

const records::ToothSummary& summary_of(const draw::Certificate& comb, int track) {
  for (const records::ToothSummary& tooth : comb.teeth)
    if (tooth.tooth.track == track) return tooth;
  return comb.teeth.front();
}

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::filed:
      return "filed";
    case Verdict::known:
      return "known";
    case Verdict::doubtful:
      return "doubtful";
    case Verdict::elsewhere:
      return "elsewhere";
    case Verdict::nothing:
      break;
  }
  return "nothing";
}

}  // namespace

Json to_json(const BenchTooth& tooth, const ToothState& state) {
  const tuner::ToothOf& of = tooth.of;
  const steel::CombTooth& design = of.designs[of.comb].teeth[of.tooth];
  Json log = Json::array();
  for (const records::FiledReading& filed : state.log) log.push_back(to_json(filed));
  Json json = {{"box", state.comb.box},
               {"comb", state.comb.comb},
               {"track", design.track},
               {"note", music::note_name(design.midi)},
               {"midi", design.midi},
               {"target_hz", design.target_hz},
               {"in_tune_c", state.comb.in_tune_c},
               {"tolerance_cents", state.comb.tolerance_cents},
               {"standing", records::to_text(records::standing(summary_of(state.comb, design.track),
                                                               state.comb.tolerance_cents))},
               {"last", state.last == 0 ? Json(nullptr) : Json(state.last)},
               {"log", std::move(log)},
               {"tuning", nullptr},
               {"pair_hz", or_null(state.pair_hz)},
               {"picture", picture_json(of, state)},
               {"next_track", or_null(records::next_to_tune(state.comb.teeth, design.track,
                                                            state.comb.tolerance_cents))},
               {"cautions", state.cautions}};
  if (state.tuning) {
    json["tuning"] = to_json(of, *state.tuning, state.readings);
    json["tuning"]["offset_hz"] = state.tuning->measured_hz - state.tuning->target_hz;
  }
  json["findings"] = disc::to_json(state.tuning ? state.tuning->findings : Findings{});
  return json;
}

Json to_json(const BenchHearing& hearing) {
  Json json = {{"is", word(hearing.verdict)},
               {"number", hearing.number == 0 ? Json(nullptr) : Json(hearing.number)},
               {"frequency_hz", nullptr},
               {"stderr_hz", nullptr},
               {"decay_s", nullptr},
               {"tracks", hearing.tracks}};
  if (hearing.pluck) {
    const ear::OwnMode& own = hearing.pluck->own.front();
    json["frequency_hz"] = own.frequency_hz;
    json["stderr_hz"] = own.stderr_hz;
    json["decay_s"] = own.decay_s;
  }
  json["findings"] = disc::to_json(hearing.findings);
  return json;
}

Json bench_json(const draw::Certificate& comb) {
  Json teeth = to_json(comb.teeth);
  for (std::size_t i = 0; i < comb.teeth.size(); ++i)
    teeth[i]["standing"] = records::to_text(records::standing(comb.teeth[i], comb.tolerance_cents));
  return {{"box", comb.box},
          {"comb", comb.comb},
          {"tolerance_cents", comb.tolerance_cents},
          {"in_tune_c", comb.in_tune_c},
          {"teeth", std::move(teeth)},
          {"not_read", draw::tracks_not_read(comb)},
          {"out_of_tolerance", draw::tracks_out_of_tolerance(comb)},
          {"cautions", comb.cautions}};
}

}  // namespace combwright::app
