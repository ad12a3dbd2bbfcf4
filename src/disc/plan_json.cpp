// SPDX-License-Identifier: Apache-2.0
#include "disc/plan_json.h"

#include <algorithm>

#include "action/action.h"
#include "base/file.h"
#include "disc/turning.h"

namespace combwright::disc {
namespace {

Json spot_json(const Spot& spot) {
  Json json = Json::object();
  if (spot.track > 0) json["track"] = spot.track;
  if (!spot.hits.empty()) json["hits"] = spot.hits;
  if (!spot.notes.empty()) json["notes"] = spot.notes;
  return json;
}

Json finding_json(const Finding& finding) {
  Json json = {{"level", to_text(finding.level)},
               {"where", finding.where},
               {"what", finding.what},
               {"do", finding.remedy}};
  if (!finding.at.empty()) json["at"] = spot_json(finding.at);
  return json;
}

Json file_json(const PlanFile& file) {
  return {{"path", file.path}, {"for", file.purpose}};
}

Json projection_json(const Projection& projection) {
  return {{"track", projection.track},
          {"midi", projection.midi},
          {"radius_m", projection.radius_m},
          {"angle_rad", projection.angle_rad},
          {"time_s", projection.time_s},
          {"note", projection.note},
          {"bar", projection.bar}};
}

template <class Item>
Json array_of(const std::vector<Item>& items, Json (*make)(const Item&)) {
  Json result = Json::array();
  for (const Item& item : items) result.push_back(make(item));
  return result;
}

// What the moment of a pluck takes of a comb.
Json tips_of(const box::Comb& comb) {
  return {{"longest_tooth_m", comb.longest_tooth_m},
          {"shortest_tooth_m", comb.shortest_tooth_m},
          {"lines", comb.lines},
          {"plucked", to_text(comb.plucked)},
          {"level_m", comb.level_m}};
}

// The plan's part of the box, in the groups of box.h.
Json geometry(const box::Box& box) {
  return {{"disc", to_json(box.disc)},
          {"projection", to_json(box.projection)},
          {"tracks", to_json(box.tracks)},
          {"star_wheel", to_json(box.star_wheel)},
          {"combs", array_of(box.combs, tips_of)},
          {"scale", {{"midi", box.scale.midi}}},
          {"damper", to_json(box.damper)},
          {"motor",
           {{"turn_time_s", box.motor.turn_time_s},
            {"most_plucks", box.motor.most_plucks},
            {"pluck_window_s", box.motor.pluck_window_s}}},
          {"hold_down", to_json(box.hold_down)}};
}

Json tracks_of(const Plan& plan) {
  const std::vector<box::Track> tracks = box::tracks(plan.box);
  const std::vector<action::TrackAction> action = action::action(plan.box, plan.disc.turn_time_s);
  Json result = Json::array();
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    result.push_back({{"track", tracks[i].number},
                      {"midi", tracks[i].midi},
                      {"radius_m", tracks[i].radius_m},
                      {"release_arc_m", action[i].release_arc_m},
                      {"release_delay_s", action[i].release_delay_s}});
  }
  return result;
}

std::string text_of(const Json& json, int indent) {
  return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Json to_json(const Findings& findings) {
  return array_of(findings, finding_json);
}

Json to_json(const std::vector<PlanFile>& files) {
  return array_of(files, file_json);
}

Json to_json(const box::Disc& disc) {
  return {{"diameter_m", disc.diameter_m},
          {"thickness_m", disc.thickness_m},
          {"centre_hole_diameter_m", disc.centre_hole_diameter_m},
          {"drive_hole_count", disc.drive_hole_count},
          {"drive_hole_diameter_m", disc.drive_hole_diameter_m},
          {"drive_hole_radius_m", disc.drive_hole_radius_m},
          {"drive_hole_angle_rad", disc.drive_hole_angle_rad},
          {"edge_margin_m", disc.edge_margin_m},
          {"start_gap_rad", disc.start_gap_rad},
          {"turning", to_text(disc.turning)}};
}

Json to_json(const box::Projection& projection) {
  return {{"length_m", projection.length_m},
          {"width_m", projection.width_m},
          {"height_m", projection.height_m},
          {"web_m", projection.web_m},
          {"corner_m", projection.corner_m}};
}

Json to_json(const box::Tracks& tracks) {
  return {{"count", tracks.count},
          {"inner_radius_m", tracks.inner_radius_m},
          {"pitch_m", tracks.pitch_m},
          {"bass", tracks.bass == box::BassSide::inner ? "inner" : "outer"}};
}

Json to_json(const box::StarWheel& wheel) {
  return {{"points", wheel.points},
          {"tip_radius_m", wheel.tip_radius_m},
          {"axis_below_disc_m", wheel.axis_below_disc_m},
          {"tooth_overlap_m", wheel.tooth_overlap_m},
          {"tip_rounding_m", wheel.tip_rounding_m},
          {"flank_rad", wheel.flank_rad}};
}

Json to_json(const box::Damper& damper) {
  return {{"lead_time_s", damper.lead_time_s}};
}

Json to_json(const box::HoldDownBar& bar) {
  return {{"roller_radius_m", bar.roller_radius_m}, {"roller_width_m", bar.roller_width_m}};
}

Json to_json(const Plan& plan) {
  const Disc& disc = plan.disc;
  return {{"box", disc.box_name},
          {"tune", disc.title},
          {"date", plan.date},
          {"checksums",
           {{"box_sha256", plan.box_sha256},
            {"tune_sha256", plan.tune_sha256},
            {"contents_sha256", contents_sha256(plan)}}},
          {"turn_time_s", disc.turn_time_s},
          {"outer_radius_m", disc.outer_radius_m},
          {"tour", {{"length_s", disc.tour.length_s}, {"bound_s", disc.tour.bound_s}}},
          {"projections", array_of(disc.projections, projection_json)},
          {"tracks", tracks_of(plan)},
          {"geometry", geometry(plan.box)},
          {"files", to_json(plan.files)},
          {"arrangement_findings", to_json(plan.arrangement_findings)},
          {"findings", to_json(disc.findings)}};
}

std::string contents_sha256(const Plan& plan) {
  std::vector<Projection> projections = plan.disc.projections;
  std::sort(projections.begin(), projections.end(), played_before);
  const Json contents = {{"box", plan.disc.box_name},
                         {"tune", plan.disc.title},
                         {"turn_time_s", plan.disc.turn_time_s},
                         {"outer_radius_m", plan.disc.outer_radius_m},
                         {"geometry", geometry(plan.box)},
                         {"projections", array_of(projections, projection_json)}};
  return sha256(text_of(contents, -1));
}

std::string write_plan(const Plan& plan) {
  return text_of(to_json(plan), 1) + "\n";
}

}  // namespace combwright::disc
