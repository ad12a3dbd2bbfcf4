// SPDX-License-Identifier: Apache-2.0
#include "draw/action_stage.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/angle.h"
#include "music/pitch.h"

namespace combwright::draw {

std::string_view comb_colour(std::size_t comb) {
  return comb == 0 ? "#1f4e9c" : "#b5482a";
}

Stage stage_of(const ActionScene& scene) {
  const box::Box& box = scene.box;
  Stage stage{.drive = box::star_drive(box)};
  const auto place = static_cast<std::size_t>(scene.track - 1);
  stage.track = action::action(box, box.motor.turn_time_s)[place];
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    stage.strikes.push_back(
        action::strike(box, stage.drive, comb, action::place_of(box, scene.track)));
    stage.stiffness_n_m.push_back(scene.combs[comb].teeth[place].tip_stiffness_n_m);
  }
  stage.from_m = stage.drive.face_m(stage.drive.rest_rad);
  stage.travel_m = stage.drive.face_m(stage.drive.leave_rad) - stage.from_m;
  return stage;
}

std::vector<Event> events_of(const ActionScene& scene, const Stage& stage) {
  std::vector<Event> events{{0.0, "first touch"}, {stage.travel_m, "slips off"}};
  const box::Box& box = scene.box;
  const double speed = two_pi * stage.track.radius_m / box.motor.turn_time_s;
  events.push_back({stage.track.release_arc_m - stage.track.damper_lead_s * speed, "damper touches",
                    damper_colour});
  const double off = stage.drive.rest_rad + box.damper.reach_m / box.star_wheel.tip_radius_m;
  if (off < stage.drive.leave_rad)
    events.push_back({stage.drive.face_m(off) - stage.from_m, "damper off", damper_colour});
  const bool together = std::abs(stage.track.pair_apart_s) * speed < 5e-6;
  for (std::size_t i = 0; i < stage.track.teeth.size(); ++i) {
    if (i > 0 && together) break;
    const bool named = stage.track.teeth.size() > 1 && !together;
    const std::string whose = named ? " " + box.combs[i].name : "";
    const std::string_view colour = comb_colour(i);
    events.push_back({stage.track.teeth[i].meet_arc_m, "met" + whose, colour});
    events.push_back({stage.track.teeth[i].release_arc_m, "let go" + whose, colour});
  }
  std::sort(events.begin(), events.end(),
            [](const Event& a, const Event& b) { return a.travel_m < b.travel_m; });
  return events;
}

std::string heading_of(const ActionScene& scene) {
  const box::Track track = box::tracks(scene.box)[static_cast<std::size_t>(scene.track - 1)];
  return fmt::format("{}: track {}, {}", scene.box.name, scene.track, music::note_name(track.midi));
}

void EventLine::draw(const std::vector<Event>& events) {
  std::array<double, 3> ends{left_ - 60.0, left_ - 60.0, left_ - 60.0};
  std::vector<std::pair<Place, const Event*>> labels;
  std::vector<double> widths;
  for (const Event& event : events) {
    const double at = x(event.travel_m);
    const double width = 0.62 * 3.4 * static_cast<double>(event.words.size()) + 3.0;
    const double begin = std::clamp(at - 0.5 * width, left_ - 8.0, right_ + 8.0 - width);
    std::size_t row = 0;
    while (row + 1 < ends.size() && ends.at(row) > begin) ++row;
    ends.at(row) = begin + width;
    const double text_y = y_ - 5.0 - 5.5 * static_cast<double>(row);
    sheet_.line({at, y_}, {at, text_y + 0.8}, event.colour, 0.3);
    labels.emplace_back(Place{begin + 0.5 * width, text_y}, &event);
    widths.push_back(width);
  }
  // Over the threads of all.
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const auto& [at, event] = labels[i];
    sheet_.blank({at.x - 0.5 * widths[i], at.y - 3.4}, widths[i], 4.6);
    sheet_.text(at, event->words, "middle", event->colour, 3.4);
  }
}

std::string action_title(const box::Box& box) {
  return fmt::format("action of {}", box.name);
}

}  // namespace combwright::draw
