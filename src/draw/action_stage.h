// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "action/action.h"
#include "action/strike.h"
#include "box/star_drive.h"
#include "draw/action_svg.h"
#include "draw/svg_sheet.h"

// What the drawings of the action have in common.
namespace combwright::draw {

inline constexpr std::string_view damper_colour = "#2e7d32";

// Of the comb at that place in the box.
std::string_view comb_colour(std::size_t comb);

struct Event {
  double travel_m = 0.0;
  std::string words;
  std::string_view colour = svg_ink;
};

struct Stage {
  box::StarDrive drive;
  action::TrackAction track;
  std::vector<action::Strike> strikes;
  std::vector<double> stiffness_n_m;
  double from_m = 0.0;    // of the projection's face, at first touch
  double travel_m = 0.0;  // until it slips off
};

Stage stage_of(const ActionScene& scene);

// In their order.
std::vector<Event> events_of(const ActionScene& scene, const Stage& stage);

// "larkspur: track 3, C4".
std::string heading_of(const ActionScene& scene);

// Words over a line of travel, each at its place but clear of those before it, in as many rows as
// that takes; a thread leads from each to its place.
class EventLine {
 public:
  EventLine(SvgSheet& sheet, double left, double right, double y, double travel_m)
      : sheet_(sheet), left_(left), right_(right), y_(y), travel_m_(travel_m) {}

  double x(double travel_m) const { return left_ + (right_ - left_) * travel_m / travel_m_; }

  void draw(const std::vector<Event>& events);

 private:
  SvgSheet& sheet_;
  double left_;
  double right_;
  double y_;
  double travel_m_;
};

}  // namespace combwright::draw
