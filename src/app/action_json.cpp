// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <string>

#include "action/setting.h"
#include "app/action_answers.h"
#include "disc/plan_json.h"

namespace combwright::app {
namespace {

// JSON has no infinity.
Json wheel_json(const action::WheelAction& wheel) {
  return {{"rest_rad", wheel.rest_rad},
          {"leave_rad", wheel.leave_rad},
          {"catch_m", wheel.catch_m},
          {"drift_on_rad", wheel.drift_on_rad},
          {"drift_back_rad", wheel.drift_back_rad},
          {"passing_m", wheel.passing_m}};
}

Json teeth_json(const box::Box& box, const ActionJob& job, std::size_t place) {
  const action::TrackAction& track = job.survey.tracks[place];
  Json list = Json::array();
  for (const action::ToothAction& tooth : track.teeth) {
    list.push_back({{"comb", box.combs[tooth.comb].name},
                    {"plucked", to_text(box.combs[tooth.comb].plucked)},
                    {"lift_m", tooth.lift_m},
                    {"meet_arc_m", tooth.meet_arc_m},
                    {"release_arc_m", tooth.release_arc_m},
                    {"release_delay_s", tooth.release_delay_s},
                    {"air_m", job.survey.air_m[tooth.comb][place]},
                    {"let_go", tooth.let_go}});
  }
  return list;
}

Json track_json(const box::Box& box, const ActionJob& job, std::size_t place) {
  const action::TrackAction& track = job.survey.tracks[place];
  const action::Passage& passage = job.survey.passages[place];
  return {{"track", track.track},
          {"radius_m", track.radius_m},
          {"lift_m", track.lift_m},
          {"release_arc_m", track.release_arc_m},
          {"release_delay_s", track.release_delay_s},
          {"damper_lead_s", track.damper_lead_s},
          {"gap_m", track.gap_m},
          {"feeler_m", action::feeler_m(track.gap_m)},
          {"min_arc_m", track.min_arc_m},
          {"min_interval_s", track.min_interval_s},
          {"pair_apart_s", track.pair_apart_s},
          {"work_j", passage.work_j},
          {"work_arc_m", passage.travel_m},
          {"teeth_j", passage.teeth_j},
          {"damper_j", passage.damper_j},
          {"brake_j", passage.brake_j},
          {"friction_j", passage.friction_j},
          {"peak_force_n", passage.peak_force_n},
          {"peak_arc_m", passage.peak_travel_m},
          {"bending_stress_pa", passage.bending_stress_pa},
          {"run_out_rad", finite_or_null(passage.run_out_rad)},
          {"teeth", teeth_json(box, job, place)}};
}

Json spread_json(const action::Spread& spread) {
  return {{"lift_m", spread.lift_m},
          {"loudness_db", spread.loudness_db},
          {"timing_s", spread.timing_s}};
}

Json tolerances_json(const box::Box& box, const box::Shop& shop, const ToleranceJob& job) {
  Json json = {
      {"boxes", job.options.boxes}, {"seed", job.options.seed}, {"missed", job.trials.missed}};
  json["contributions"] = Json::array();
  for (const action::Contribution& part : job.ranked) {
    Json row = {{"what", to_text(part.deviation)},
                {"of_each", owner_of(part.deviation)},
                {"tolerance_m", tolerance_m(shop.action_tolerance, part.deviation)}};
    row.update(spread_json(part.spread));
    row["loudness_share"] = part.loudness_share;
    row["timing_share"] = part.timing_share;
    json["contributions"].push_back(std::move(row));
  }
  json["teeth"] = Json::array();
  for (std::size_t i = 0; i < job.teeth.size(); ++i) {
    const action::ToothSpread& tooth = job.teeth[i];
    const action::TrialTooth& tried = job.trials.teeth[i];
    json["teeth"].push_back({{"comb", box.combs[tooth.comb].name},
                             {"track", tooth.track},
                             {"first_order", spread_json(tooth.all)},
                             {"trials", spread_json(tried.all)},
                             {"mean_lift_m", tried.mean_lift_m},
                             {"mean_timing_s", tried.mean_timing_s}});
  }
  return json;
}

}  // namespace

Json to_json(const box::Box& box, const box::Shop& shop, const ActionJob& job) {
  Json json = {{"box", box.name},
               {"turn_time_s", job.survey.turn_time_s},
               {"wheel", wheel_json(job.survey.wheel)}};
  json["tracks"] = Json::array();
  for (std::size_t i = 0; i < job.survey.tracks.size(); ++i)
    json["tracks"].push_back(track_json(box, job, i));
  if (job.tolerances) json["tolerances"] = tolerances_json(box, shop, *job.tolerances);
  json["findings"] = disc::to_json(job.findings);
  return json;
}

}  // namespace combwright::app
