// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "box/measures.h"
#include "box/star_drive.h"
#include "draw/action_outlines.h"
#include "draw/section_figures.h"

namespace combwright::draw {
namespace {

// What is shown to either side of the axis, in tip radii.
constexpr double shown_radii = 3.0;

class ActionDrawer {
 public:
  ActionDrawer(SectionSheet& sheet, const box::Box& box)
      : sheet_(sheet),
        box_(box),
        drive_(box::star_drive(box)),
        axis_(-box.star_wheel.axis_below_disc_m * mm_per_m),
        tip_(box.star_wheel.tip_radius_m * mm_per_m) {}

  void draw_wheel() {
    // The outlines are for paper with y down from the axis: turned round again.
    std::vector<Place> outline = wheel_outline(drive_, drive_.rest_rad, {mm_per_m, {0.0, 0.0}});
    for (Place& point : outline) point = {point.x, axis_ - point.y};
    sheet_.begin("star_wheel", "star_wheel.points");
    sheet_.outline(outline, brass_fill);
    sheet_.end();
    sheet_.begin("star_wheel", "star_wheel.tip_radius");
    sheet_.dashed_circle({0.0, axis_}, tip_);
    sheet_.end();
    sheet_.axis({-0.4 * tip_, axis_}, {0.4 * tip_, axis_});
    sheet_.axis({0.0, axis_ - 0.4 * tip_}, {0.0, axis_ + 0.4 * tip_});
  }

  void draw_disc(double half) {
    std::vector<Place> outline =
        projection_outline(box_, drive_.face_m(drive_.rest_rad), box_.star_wheel.axis_below_disc_m,
                           {mm_per_m, {0.0, 0.0}});
    for (Place& point : outline) point = {point.x, axis_ - point.y};
    sheet_.begin("projection", "projection.length");
    sheet_.outline(outline, sheet_fill);
    sheet_.end();
    sheet_.begin("disc", "disc.thickness");
    sheet_.rectangle(-half, half, 0.0, box_.disc.thickness_m * mm_per_m, sheet_fill);
    sheet_.end();
  }

  // The way of the tip on which it takes the damper along.
  void draw_damper() {
    const double from = drive_.rest_rad + box_.damper.stands_m * mm_per_m / tip_;
    const double to = drive_.rest_rad + box_.damper.reach_m * mm_per_m / tip_;
    const double around = tip_ + 0.5 * sheet_.letters();
    sheet_.begin("damper", "damper.reach");
    constexpr int steps = 24;
    for (int i = 0; i < steps; ++i) {
      const auto place = [&](int step) {
        const double angle =
            std::lerp(from, to, static_cast<double>(step) / steps) + drive_.pitch_rad;
        return Place{around * std::sin(angle), axis_ + around * std::cos(angle)};
      };
      sheet_.line(place(i), place(i + 1));
    }
    const double end = to + drive_.pitch_rad;
    sheet_.words({(around + sheet_.letters()) * std::sin(end),
                  axis_ + (around + sheet_.letters()) * std::cos(end)},
                 "takes the damper along");
    sheet_.end();
  }

  void name_combs(const SectionScene& scene, double half) {
    const double letters = sheet_.letters();
    for (std::size_t i = 0; i < box_.combs.size(); ++i) {
      const bool down = box_.combs[i].plucked == box::Plucked::down;
      const double aside = (down ? 1.0 : -1.0) * (half - 0.5 * letters);
      sheet_.words({aside, comb_heights(scene, i).plate_high + 0.5 * letters},
                   box::comb_words(box_.combs[i].name), down ? "end" : "start");
    }
  }

  void measure(double half) {
    const double letters = sheet_.letters();
    const double face = drive_.face_m(drive_.rest_rad) * mm_per_m;
    const double back = face - box_.projection.length_m * mm_per_m;
    const double top = box_.disc.thickness_m * mm_per_m;
    across("projection", "length", back, face, top + 1.6 * letters, 0.0, box_.projection.length_m);
    up("disc", "thickness", 0.0, top, -half + 7.0 * letters, -half + 6.0 * letters,
       box_.disc.thickness_m);
    up("projection", "height", -box_.projection.height_m * mm_per_m, 0.0, back - 2.0 * letters,
       back, box_.projection.height_m);
    up("star_wheel", "axis_below_disc", axis_, 0.0, -half + 6.5 * letters, -0.4 * tip_,
       box_.star_wheel.axis_below_disc_m);
    across("star_wheel", "tip_radius", 0.0, tip_, axis_ - tip_ - 1.8 * letters, axis_,
           box_.star_wheel.tip_radius_m);
    const double end = tip_ - box_.star_wheel.tooth_overlap_m * mm_per_m;
    const double side = box_.combs[0].plucked == box::Plucked::down ? 1.0 : -1.0;
    across("star_wheel", "tooth_overlap", std::min(side * end, side * tip_),
           std::max(side * end, side * tip_), axis_ - tip_ - 3.6 * letters, axis_,
           box_.star_wheel.tooth_overlap_m);
  }

 private:
  void across(const char* section, const char* name, double left, double right, double z,
              double from_z, double length_m) {
    sheet_.begin(section, fmt::format("{}.{}", section, name));
    sheet_.measure_across(left, right, z, from_z, length_words(length_m));
    sheet_.end();
  }

  void up(const char* section, const char* name, double low, double high, double x, double from_x,
          double length_m) {
    sheet_.begin(section, fmt::format("{}.{}", section, name));
    sheet_.measure_up(low, high, x, from_x, length_words(length_m));
    sheet_.end();
  }

  SectionSheet& sheet_;
  const box::Box& box_;
  box::StarDrive drive_;
  double axis_;
  double tip_;
};

}  // namespace

Figure action_figure(const SectionScene& scene) {
  const box::Box& box = scene.box;
  const double tip = box.star_wheel.tip_radius_m * mm_per_m;
  const double half = shown_radii * tip;
  const double letters = 2.0 * half / 52.0;
  const int track = box::track_of_place(box, 0);
  double low = -box.star_wheel.axis_below_disc_m * mm_per_m - tip;
  for (std::size_t i = 0; i < box.combs.size(); ++i)
    low = std::min(low, comb_heights(scene, i).plate_low);
  Figure figure{
      .name = "action",
      .title = fmt::format("{}: the action at track {}, as a projection arrives", box.name, track)};
  SectionSheet sheet(
      {-half, half, low - 7.0 * letters, box.disc.thickness_m * mm_per_m + 4.0 * letters},
      figure.title, "action-title");
  ActionDrawer drawer(sheet, box);
  for (std::size_t i = 0; i < box.combs.size(); ++i)
    draw_comb(sheet, scene, i, half - tip + box.star_wheel.tooth_overlap_m * mm_per_m);
  drawer.draw_wheel();
  drawer.draw_disc(half);
  drawer.draw_damper();
  drawer.name_combs(scene, half);
  drawer.measure(half);
  sheet.scale_bar();
  figure.svg = sheet.take();
  return figure;
}

}  // namespace combwright::draw
