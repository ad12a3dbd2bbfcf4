// SPDX-License-Identifier: Apache-2.0
#include "draw/action_svg.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "action/strike.h"
#include "box/measures.h"
#include "box/star_drive.h"
#include "draw/action_outlines.h"
#include "draw/action_stage.h"

namespace combwright::draw {
namespace {

constexpr std::string_view disc_colour = "#b9c4cc";
constexpr std::string_view wheel_colour = "#e8d8a8";
constexpr std::string_view steel_colour = "#cfd6dc";

// How much of a tooth is drawn, in tip radii of the star wheel.
constexpr double shown_tooth = 0.9;

std::string mm_words(double length_m) {
  return fmt::format("{:.2f} mm", length_m * 1e3);
}

// The end of a tooth of that thickness, bent as a cantilever pulled at its end.
std::vector<Place> tooth_outline(const action::Strike& strike, box::Plucked plucked, double lift_m,
                                 double thickness_m, double shown_m, const View& view) {
  const double side = plucked == box::Plucked::down ? 1.0 : -1.0;
  const double end =
      strike.tip_radius_m - strike.overlap_m + box::draw_back_m(strike.length_m, lift_m);
  std::vector<Place> struck;
  std::vector<Place> other;
  constexpr int steps = 12;
  for (int i = 0; i <= steps; ++i) {
    const double from_tip = shown_m * i / steps;
    const double share =
        std::isfinite(strike.length_m) ? std::max(0.0, 1.0 - from_tip / strike.length_m) : 1.0;
    const double bent = lift_m * 0.5 * share * share * (3.0 - share);
    const double z = -strike.level_m + bent;
    struck.push_back(view.at(side * (end + from_tip), -side * z));
    other.push_back(view.at(side * (end + from_tip), -side * (z + thickness_m)));
  }
  // Open at the far end, where the tooth goes on.
  std::reverse(struck.begin(), struck.end());
  struck.insert(struck.end(), other.begin(), other.end());
  return struck;
}

// A round scale at which wheel and teeth fill the width.
double round_scale(double shown_m, double width_mm) {
  double scale = 1.0;
  for (const double tried : {2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0})
    if (shown_m * tried * 1e3 <= width_mm) scale = tried;
  return scale;
}

constexpr double sheet_width = 300.0;
constexpr double edge = 10.0;

// From the middle of the sheet to where what is drawn ends.
double half_m(const View& view) {
  return (0.5 * sheet_width - edge) / view.scale;
}

double sheet_m(const box::Box& box) {
  return std::max(box.disc.thickness_m, 0.2e-3);
}

// The disc, and the projection as it touched first and as it stands.
void draw_disc(SvgSheet& out, const box::Box& box, double first_m, double face_m,
               const View& view) {
  const double half = half_m(view);
  const double sheet = sheet_m(box);
  const double disc = box.star_wheel.axis_below_disc_m;
  out.shape(projection_outline(box, first_m, disc, view), "none", svg_faint, 0.3, true, "1.5 1.5");
  out.shape(projection_outline(box, face_m, disc, view), disc_colour, svg_ink, 0.4);
  out.shape({view.at(-half, disc), view.at(half, disc), view.at(half, disc + sheet),
             view.at(-half, disc + sheet)},
            disc_colour, svg_ink, 0.4);
  const Place arrow = view.at(-half, disc + 0.5 * sheet);
  out.text({arrow.x + 3.0, arrow.y + 1.4}, "disc runs this way \u2192", "start", svg_ink, 3.6);
}

// At rest, dashed, and as it stands.
void draw_tooth(SvgSheet& out, const ActionScene& scene, const action::Strike& strike,
                std::size_t comb, double angle_rad, const View& view) {
  const box::Comb& own = scene.box.combs[comb];
  const auto& tooth = scene.combs[comb].teeth[static_cast<std::size_t>(scene.track - 1)];
  const double thickness = tooth.in_tune.sections.front().tip_thickness_m;
  const double shown = shown_tooth * strike.tip_radius_m;
  const double lift = strike.lift_at_m(angle_rad);
  if (lift > 0.0)
    out.shape(tooth_outline(strike, own.plucked, 0.0, thickness, shown, view), "none", svg_faint,
              0.3, false, "1.5 1.5");
  out.shape(tooth_outline(strike, own.plucked, lift, thickness, shown, view), steel_colour,
            comb_colour(comb), 0.5, false);
  const double side = own.plucked == box::Plucked::down ? 1.0 : -1.0;
  // Beyond the thickness, clear of the wheel.
  const double beyond = thickness - strike.level_m + strike.lift_m;
  const Place words = view.at(side * half_m(view), -side * beyond);
  const double y = words.y + (side > 0.0 ? 6.0 : -3.0);
  out.text({words.x, y},
           fmt::format("{}, plucked {}: {}", box::comb_words(own.name), to_text(own.plucked),
                       lift > 0.0 ? "lifted by " + mm_words(lift) : std::string("at rest")),
           side > 0.0 ? "end" : "start", comb_colour(comb));
}

void draw_wheel(SvgSheet& out, const box::StarDrive& drive, double tip_radius_m, double angle_rad,
                const View& view) {
  out.circle(view.axis, tip_radius_m * view.scale, "none", svg_faint, 0.2, "1 2");
  out.shape(wheel_outline(drive, angle_rad, view), wheel_colour, svg_ink, 0.4);
  out.circle(view.axis, 0.35 * drive.root_m() * view.scale, "white", svg_ink, 0.4);
  out.line({view.axis.x - 2.0, view.axis.y}, {view.axis.x + 2.0, view.axis.y}, svg_ink, 0.2);
  out.line({view.axis.x, view.axis.y - 2.0}, {view.axis.x, view.axis.y + 2.0}, svg_ink, 0.2);
}

// The way of the tip that moves the damper.
void draw_damper_way(SvgSheet& out, const box::Box& box, const box::StarDrive& drive,
                     const View& view) {
  const double tip = box.star_wheel.tip_radius_m;
  std::vector<Place> way;
  constexpr int steps = 30;
  const double from = drive.rest_rad + box.damper.stands_m / tip;
  const double to = drive.rest_rad + box.damper.reach_m / tip;
  const double around = tip + 1.6 / view.scale;
  for (int i = 0; i <= steps; ++i) {
    const double turn = std::lerp(from, to, static_cast<double>(i) / steps) + drive.pitch_rad;
    way.push_back(view.at(around * std::sin(turn), around * std::cos(turn)));
  }
  out.shape(way, "none", damper_colour, 1.0, false);
  const double end = to + drive.pitch_rad;
  const Place words = view.at((around + 2.0 / view.scale) * std::sin(end),
                              (around + 2.0 / view.scale) * std::cos(end));
  out.text({words.x, words.y - 1.0}, "on this way the tip takes the damper along", "start",
           damper_colour, 3.6);
}

// Where on its way the projection is.
void draw_way(SvgSheet& out, const ActionScene& scene, const Stage& stage, double travel_m,
              double angle_rad, double y) {
  const double left = edge + 14.0;
  const double right = sheet_width - edge - 14.0;
  EventLine line(out, left, right, y, stage.travel_m);
  out.line({left, y}, {right, y}, svg_ink, 0.4);
  line.draw(events_of(scene, stage));
  const double here = line.x(travel_m);
  out.shape({{here, y + 0.5}, {here - 2.0, y + 4.5}, {here + 2.0, y + 4.5}}, svg_ink, svg_ink, 0.2);
  out.text({std::clamp(here, left + 40.0, right - 40.0), y + 10.0},
           fmt::format("travel {} of {}, point {:.1f}\u00b0 {} upright", mm_words(travel_m),
                       mm_words(stage.travel_m), std::abs(angle_rad) * 180.0 / std::numbers::pi,
                       angle_rad < 0.0 ? "before" : "past"),
           "middle");
}

}  // namespace

std::string write_action_svg(const ActionScene& scene, std::optional<double> travel_m) {
  const box::Box& box = scene.box;
  const Stage stage = stage_of(scene);
  constexpr double just_before_m = 1e-8;
  const double travel =
      std::clamp(travel_m.value_or(stage.track.release_arc_m - just_before_m), 0.0, stage.travel_m);
  const double face = stage.from_m + travel;
  const double angle = stage.drive.angle_rad(face);
  const double tip = box.star_wheel.tip_radius_m;
  const double scale = round_scale(2.0 * (1.0 + shown_tooth) * tip, sheet_width - 2.0 * edge);
  const double up = box.star_wheel.axis_below_disc_m + sheet_m(box);
  constexpr double head = 16.0;
  constexpr double foot = 44.0;
  const View view{scale * 1e3, {0.5 * sheet_width, head + 4.0 + up * scale * 1e3}};
  const double below = view.axis.y + tip * view.scale + 6.0;
  SvgSheet out(sheet_width, below + foot, action_title(box));
  out.text({edge, 9.0}, heading_of(scene), "start", svg_ink, 5.5);
  out.text({sheet_width - edge, 9.0}, fmt::format("scale {:g} : 1", scale), "end", svg_faint);
  draw_disc(out, box, stage.from_m, face, view);
  // Under the wheel, which reaches over them.
  for (std::size_t i = 0; i < stage.strikes.size(); ++i)
    draw_tooth(out, scene, stage.strikes[i], i, angle, view);
  draw_wheel(out, stage.drive, tip, angle, view);
  draw_damper_way(out, box, stage.drive, view);
  draw_way(out, scene, stage, travel, angle, below + 26.0);
  return out.take();
}

}  // namespace combwright::draw
