// SPDX-License-Identifier: Apache-2.0
#include "draw/setup.h"

#include <fmt/core.h>

#include "base/quantity.h"
#include "disc/shop_checks.h"
#include "draw/words.h"

namespace combwright::draw {
namespace {

std::string brief_mm(double length_m) {
  return fmt::format("{:.4g} mm", length_m * 1000.0);
}

std::string tool_words(const box::Projection& projection) {
  return fmt::format("{} along the track by {} along the radius; projections {} high",
                     brief_mm(projection.length_m), brief_mm(projection.width_m),
                     brief_mm(projection.height_m));
}

std::string stroke_words(const box::Punch& punch) {
  if (!punch.hit.empty()) {
    return fmt::format(
        "the top of the sheet; the tool is lifted to {} before the first move, then "
        "the shop's own lines strike and must leave it up",
        brief_mm(punch.up_m));
  }
  return fmt::format(
      "the top of the sheet; up {}, down {}; the tool is lifted before the first move",
      brief_mm(punch.up_m), brief_mm(punch.down_m));
}

std::string drive_hole_words(const box::Disc& disc) {
  if (disc.drive_hole_count == 0) return "none: mark the start line on the sheet yourself";
  return fmt::format(
      "{} of {} on a radius of {}, the first one {} from the start line; not in this program: "
      "drill them first and set A by them",
      disc.drive_hole_count, brief_mm(disc.drive_hole_diameter_m),
      brief_mm(disc.drive_hole_radius_m), to_text(disc.drive_hole_angle_rad, Dimension::angle));
}

// The projection trails its leading edge, so the tool reaches against the way the disc turns.
std::string_view tool_side(box::Turning turning) {
  return box::to_text(turning == box::Turning::clockwise ? box::Turning::counter_clockwise
                                                         : box::Turning::clockwise);
}

}  // namespace

double punching_time_s(const box::Shop& shop, const disc::Disc& disc) {
  return disc.tour.length_s +
         static_cast<double>(disc.projections.size()) * shop.punch.stroke_time_s;
}

double rest_radius_m(const box::Box& box) {
  constexpr double clear_of_edge_m = 0.005;
  return box.disc.diameter_m / 2.0 + box.projection.width_m / 2.0 + clear_of_edge_m;
}

std::vector<SetupStep> setup_steps(const box::Box& box, const box::Shop& shop,
                                   const disc::Disc& disc) {
  const auto turning = box.disc.turning;
  return {
      {"Sheet",
       fmt::format("disc of {} diameter, {} thick, centre hole {}", brief_mm(box.disc.diameter_m),
                   brief_mm(box.disc.thickness_m), brief_mm(box.disc.centre_hole_diameter_m))},
      {"Side up", "the side the punch strikes; the projections come out underneath"},
      {"Zero of X", "the middle of the centre hole; X is the radius, growing outwards"},
      {"Zero of A", "the start line on the line of the X slide"},
      {"Drive holes", drive_hole_words(box.disc)},
      {"Sense of A",
       "seen from above, a growing A turns the table clockwise, so that angles on the disc count "
       "counter-clockwise from the start line; set A up as an axis that wraps at 360"},
      {"Tool", tool_words(box.projection)},
      {"Tool place",
       fmt::format("leading edge on the line of the X slide, its middle at X; the tool reaches {} "
                   "from there",
                   tool_side(turning))},
      {"Turning",
       fmt::format("in the box the disc turns {}, seen from this side", box::to_text(turning))},
      {"Start",
       fmt::format(
           "X {:.5g} A 0, the tool up, {} outside the edge; the program stops there before "
           "the first hit for you to check the set-up, and comes back there at the end",
           rest_radius_m(box) * 1000.0,
           brief_mm(rest_radius_m(box) - (box.disc.diameter_m + box.projection.width_m) / 2.0))},
      {"Zero of Z", stroke_words(shop.punch)},
      {"Stroke", fmt::format("about {} a stroke, at {} shear strength of the sheet",
                             to_text(disc::stroke_force_n(box, shop), Dimension::force),
                             to_text(shop.punch.sheet_shear_strength_pa, Dimension::pressure))},
      {"Time", fmt::format("{} hits, about {}", disc.projections.size(),
                           duration_words(punching_time_s(shop, disc)))},
  };
}

}  // namespace combwright::draw
