// SPDX-License-Identifier: Apache-2.0
#include <nlohmann/json.hpp>

#include "action/action.h"
#include "disc/plan.h"

namespace combwright::disc {
namespace {

using Json = nlohmann::ordered_json;

Json to_json(const Projection& projection) {
  return {{"track", projection.track},       {"midi", projection.midi},
          {"radius_m", projection.radius_m}, {"angle_rad", projection.angle_rad},
          {"time_s", projection.time_s},     {"note", projection.note}};
}

Json to_json(const Finding& finding) {
  return {{"level", to_text(finding.level)},
          {"where", finding.where},
          {"what", finding.what},
          {"do", finding.remedy}};
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
          {"turning", disc.turning == box::Turning::clockwise ? "clockwise" : "counter_clockwise"}};
}

// The plan's part of the box, in the groups of box.h.
Json geometry(const box::Box& box) {
  return {{"disc", to_json(box.disc)},
          {"projection",
           {{"length_m", box.projection.length_m},
            {"width_m", box.projection.width_m},
            {"height_m", box.projection.height_m},
            {"web_m", box.projection.web_m}}},
          {"tracks",
           {{"count", box.tracks.count},
            {"inner_radius_m", box.tracks.inner_radius_m},
            {"pitch_m", box.tracks.pitch_m},
            {"bass", box.tracks.bass == box::BassSide::inner ? "inner" : "outer"}}},
          {"star_wheel",
           {{"points", box.star_wheel.points},
            {"tip_radius_m", box.star_wheel.tip_radius_m},
            {"axis_below_disc_m", box.star_wheel.axis_below_disc_m},
            {"tooth_overlap_m", box.star_wheel.tooth_overlap_m}}},
          {"scale", {{"midi", box.scale.midi}}},
          {"damper", {{"lead_time_s", box.damper.lead_time_s}}},
          {"motor",
           {{"turn_time_s", box.motor.turn_time_s},
            {"most_plucks", box.motor.most_plucks},
            {"pluck_window_s", box.motor.pluck_window_s}}},
          {"hold_down",
           {{"roller_radius_m", box.hold_down.roller_radius_m},
            {"roller_width_m", box.hold_down.roller_width_m}}}};
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

template <class Item>
Json array_of(const std::vector<Item>& items) {
  Json result = Json::array();
  for (const Item& item : items) result.push_back(to_json(item));
  return result;
}

}  // namespace

std::string write_plan(const Plan& plan) {
  const Disc& disc = plan.disc;
  const Json json = {
      {"box", disc.box_name},
      {"tune", disc.title},
      {"date", plan.date},
      {"checksums", {{"box_sha256", plan.box_sha256}, {"tune_sha256", plan.tune_sha256}}},
      {"turn_time_s", disc.turn_time_s},
      {"outer_radius_m", disc.outer_radius_m},
      {"tour", {{"length_s", disc.tour.length_s}, {"bound_s", disc.tour.bound_s}}},
      {"projections", array_of(disc.projections)},
      {"tracks", tracks_of(plan)},
      {"geometry", geometry(plan.box)},
      {"files", plan.files},
      {"findings", array_of(disc.findings)}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace combwright::disc
