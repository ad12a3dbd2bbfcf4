// SPDX-License-Identifier: Apache-2.0
#include "app/scale_answers.h"
#include "disc/plan_json.h"
#include "music/pitch.h"

namespace combwright::app {
namespace {

Json to_json(const arrange::TuneCoverage& tune) {
  return {{"tune", tune.name},
          {"coverage", tune.coverage},
          {"coverage_now", tune.coverage_now},
          {"coverage_bound", tune.coverage_bound},
          {"transpose_semitones", tune.transpose_semitones},
          {"transpose_semitones_now", tune.transpose_semitones_now},
          {"tempo_factor", tune.tempo_factor},
          {"first_bar", tune.bars.first},
          {"last_bar", tune.bars.last},
          {"notes", tune.notes}};
}

}  // namespace

Json to_json(const arrange::ScalePlan& plan, const Findings& findings) {
  Json scale = Json::array();
  for (const arrange::ScaleTooth& tooth : plan.scale) {
    scale.push_back(
        {{"midi", tooth.midi}, {"note", music::note_name(tooth.midi)}, {"track", tooth.track}});
  }
  Json tunes = Json::array();
  for (const arrange::TuneCoverage& tune : plan.tunes) tunes.push_back(to_json(tune));
  Json next = Json::array();
  for (const arrange::NextTooth& tooth : plan.next) {
    next.push_back({{"midi", tooth.midi},
                    {"note", music::note_name(tooth.midi)},
                    {"track", tooth.track},
                    {"coverage", tooth.coverage},
                    {"gain", tooth.gain}});
  }
  return {{"box", plan.box_name},
          {"scale", scale},
          {"keys", scale_keys(plan)},
          {"added", added_teeth(plan)},
          {"given_up", teeth_given_up(plan)},
          {"coverage", plan.coverage},
          {"coverage_now", plan.coverage_now},
          {"coverage_bound", plan.coverage_bound},
          {"coverage_bound_in_keys", plan.coverage_bound_in_keys},
          {"tunes", tunes},
          {"next", next},
          {"findings", disc::to_json(findings)}};
}

}  // namespace combwright::app
