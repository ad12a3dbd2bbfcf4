// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "box/measures.h"
#include "draw/section_figures.h"

namespace combwright::draw {
namespace {

// The line of the star wheels lies along the cabinet unless only its width has room for it.
bool along_grain(const box::Box& box) {
  double reach_m = 0.0;
  for (const box::Comb& comb : box.combs) reach_m = std::max(reach_m, comb_reach_m(box, comb));
  const double along_m = outer_radius_m(box) + 0.5 * box.tracks.pitch_m;
  const double length = 0.5 * box.cabinet.length_m + box::same_length_m;
  const double width = 0.5 * box.cabinet.width_m + box::same_length_m;
  return (along_m <= length && reach_m <= width) || !(along_m <= width && reach_m <= length);
}

// Letters of a drawing that wide inside, with room for words at its sides.
double letters_for(double inside) {
  return inside / 40.0;
}

double chord_half(const box::Box& box, double from_middle_m) {
  const double r = 0.5 * box.disc.diameter_m;
  return mm_per_m * std::sqrt(std::max(0.0, r * r - from_middle_m * from_middle_m));
}

double half_case(const box::Box& box, bool grain) {
  return 0.5 * mm_per_m *
         (grain ? std::max(box.cabinet.length_m, box.soundboard.length_m)
                : std::max(box.cabinet.width_m, box.soundboard.width_m));
}

void draw_drive_holes(SectionSheet& sheet, const box::Disc& disc) {
  if (disc.drive_hole_count == 0) return;
  // Turned into the plane, on the side without star wheels.
  const double at = -disc.drive_hole_radius_m * mm_per_m;
  const double half = 0.5 * disc.drive_hole_diameter_m * mm_per_m;
  sheet.begin("disc", "disc.drive_hole_radius");
  sheet.rectangle(at - half, at + half, 0.0, disc.thickness_m * mm_per_m, "white");
  sheet.end();
}

void draw_disc_along(SectionSheet& sheet, const box::Box& box) {
  const double radius = 0.5 * box.disc.diameter_m * mm_per_m;
  const double hole = 0.5 * box.disc.centre_hole_diameter_m * mm_per_m;
  const double thickness = box.disc.thickness_m * mm_per_m;
  sheet.begin("disc", "disc.diameter");
  sheet.rectangle(-radius, -hole, 0.0, thickness, sheet_fill);
  sheet.rectangle(hole, radius, 0.0, thickness, sheet_fill);
  sheet.end();
  draw_drive_holes(sheet, box.disc);
}

void draw_spindle(SectionSheet& sheet, const SectionScene& scene) {
  const double half = 0.5 * scene.box.disc.centre_hole_diameter_m * mm_per_m;
  const double high = scene.box.disc.thickness_m * mm_per_m + sheet.letters();
  const double low = lowest_bedplate(scene);
  sheet.begin("disc", "disc.centre_hole_diameter");
  sheet.rectangle(-half, half, low, high, steel_fill);
  sheet.end();
  sheet.axis({0.0, low - sheet.letters()}, {0.0, high + sheet.letters()});
}

void draw_tracks(SectionSheet& sheet, const SectionScene& scene) {
  const box::Box& box = scene.box;
  const double axis = -box.star_wheel.axis_below_disc_m * mm_per_m;
  const double tip = box.star_wheel.tip_radius_m * mm_per_m;
  const auto each = [&](double half_m, double low, double high, std::string_view fill) {
    for (int track = 1; track <= box.tracks.count; ++track) {
      const double middle = box::track_radius_m(box, track);
      sheet.narrow_rectangle((middle - half_m) * mm_per_m, (middle + half_m) * mm_per_m, low, high,
                             fill);
    }
  };
  // Behind the wheels, then the wheels, then what stands out under the disc.
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const CombHeights heights = comb_heights(scene, i);
    sheet.begin("comb", comb_key(i, "tooth_width"));
    each(0.5 * box.combs[i].tooth_width_m, heights.plate_low, heights.plate_high, steel_fill);
    sheet.end();
  }
  sheet.begin("star_wheel", "star_wheel.thickness");
  each(0.5 * box.star_wheel.thickness_m, axis - tip, axis + tip, brass_fill);
  sheet.end();
  sheet.begin("projection", "projection.width");
  each(0.5 * box.projection.width_m, -box.projection.height_m * mm_per_m, 0.0, sheet_fill);
  sheet.end();
  const double beyond = 1.5 * sheet.letters();
  sheet.axis({box.tracks.inner_radius_m * mm_per_m - beyond, axis},
             {box::outer_radius_m(box) * mm_per_m + beyond, axis});
}

void draw_rollers(SectionSheet& sheet, const box::Box& box) {
  const double low = box.disc.thickness_m * mm_per_m;
  const double half = 0.5 * box.hold_down.roller_width_m * mm_per_m;
  sheet.begin("hold_down", "hold_down.rollers");
  for (const double radius : box.hold_down.roller_radius_m) {
    const double at = radius * mm_per_m;
    sheet.rectangle(at - half, at + half, low, low + 0.8 * sheet.letters(), brass_fill);
  }
  if (!box.hold_down.roller_radius_m.empty()) {
    const auto [least, most] = std::minmax_element(box.hold_down.roller_radius_m.begin(),
                                                   box.hold_down.roller_radius_m.end());
    sheet.dashed_line({*least * mm_per_m - sheet.letters(), low + 0.8 * sheet.letters()},
                      {*most * mm_per_m + sheet.letters(), low + 0.8 * sheet.letters()});
    sheet.words({*most * mm_per_m + 1.4 * sheet.letters(), low + 0.5 * sheet.letters()}, "rollers");
  }
  sheet.end();
}

void measure_tracks(SectionSheet& sheet, const box::Box& box) {
  const double disc = box.disc.thickness_m * mm_per_m;
  const double letters = sheet.letters();
  const auto measure = [&](const char* section, const char* key, double from, double to,
                           double level, const std::string& words) {
    sheet.begin(section, key);
    sheet.measure_across(from, to, disc + level * letters, disc, words);
    sheet.end();
  };
  measure("tracks", "tracks.inner_radius", 0.0, box.tracks.inner_radius_m * mm_per_m, 2.4,
          length_words(box.tracks.inner_radius_m));
  measure("tracks", "tracks.count", 0.0, box::outer_radius_m(box) * mm_per_m, 4.2,
          fmt::format("track {} at {}", box.tracks.count, length_words(box::outer_radius_m(box))));
  const double radius = 0.5 * box.disc.diameter_m * mm_per_m;
  measure("disc", "disc.diameter", -radius, radius, 6.0,
          fmt::format("disc {}", length_words(box.disc.diameter_m)));
}

Extent extent_of(const SectionScene& scene, double half, double letters) {
  const double above = scene.box.disc.thickness_m * mm_per_m + 8.0 * letters;
  return {-half - 6.0 * letters, half + 6.0 * letters,
          floor_of_case(scene, letters) - 4.5 * letters, above};
}

void draw_bed(SectionSheet& sheet, const SectionScene& scene) {
  const double beyond = 2.0 * scene.box.tracks.pitch_m;
  for (std::size_t i = 0; i < scene.box.combs.size(); ++i) {
    const double z = comb_heights(scene, i).bedplate;
    sheet.begin("comb", comb_key(i, "room_below"));
    sheet.line({(scene.box.tracks.inner_radius_m - beyond) * mm_per_m, z},
               {(box::outer_radius_m(scene.box) + beyond) * mm_per_m, z});
    sheet.end();
  }
  sheet.words({(box::outer_radius_m(scene.box) + beyond) * mm_per_m + 0.5 * sheet.letters(),
               lowest_bedplate(scene) - 0.3 * sheet.letters()},
              "bedplate");
}

void draw_chord(SectionSheet& sheet, const box::Box& box, double radius_m) {
  const double half = chord_half(box, radius_m);
  sheet.begin("disc", "disc.thickness");
  sheet.rectangle(-half, half, 0.0, box.disc.thickness_m * mm_per_m, sheet_fill);
  sheet.end();
}

void measure_combs(SectionSheet& sheet, const SectionScene& scene) {
  const box::Box& box = scene.box;
  const double disc = box.disc.thickness_m * mm_per_m;
  const double letters = sheet.letters();
  const double tip = (box.star_wheel.tip_radius_m - box.star_wheel.tooth_overlap_m) * mm_per_m;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const box::Comb& comb = box.combs[i];
    const double side = comb.plucked == box::Plucked::down ? 1.0 : -1.0;
    const double root = tip + box::tooth_length_m(box, comb, 0) * mm_per_m;
    const double back = root + comb.bar_depth_m * mm_per_m;
    const CombHeights heights = comb_heights(scene, i);
    const auto across = [&](const char* key, double from, double to, double level, double from_z,
                            const std::string& words) {
      sheet.begin("comb", comb_key(i, key));
      sheet.measure_across(std::min(side * from, side * to), std::max(side * from, side * to),
                           disc + level * letters, from_z, words);
      sheet.end();
    };
    across("longest_tooth", tip, root, 2.4, heights.struck,
           fmt::format("tooth {}", length_words(box::tooth_length_m(box, comb, 0))));
    across("bar_depth", root, back, 4.2, heights.plate_high, length_words(comb.bar_depth_m));
    sheet.begin("comb", comb_key(i, "room_below"));
    sheet.measure_up(heights.bedplate, heights.teeth_low, side * (back + letters), side * back,
                     length_words(comb.room_below_m));
    sheet.end();
  }
}

}  // namespace

Figure along_figure(const SectionScene& scene) {
  const box::Box& box = scene.box;
  const bool grain = along_grain(box);
  const double half = std::max(0.5 * box.disc.diameter_m * mm_per_m, half_case(box, grain));
  Figure figure{.name = "along",
                .title = fmt::format("{}: along the line of the star wheels", box.name)};
  SectionSheet sheet(extent_of(scene, half, letters_for(2.0 * half)), figure.title, "along-title");
  draw_case(sheet, scene, grain);
  draw_bed(sheet, scene);
  draw_spindle(sheet, scene);
  draw_tracks(sheet, scene);
  draw_disc_along(sheet, box);
  draw_rollers(sheet, box);
  measure_tracks(sheet, box);
  sheet.scale_bar();
  figure.svg = sheet.take();
  return figure;
}

Figure across_figure(const SectionScene& scene) {
  const box::Box& box = scene.box;
  const bool grain = !along_grain(box);
  const int track = box::track_of_place(box, 0);
  const double radius_m = box::track_radius_m(box, track);
  double half = std::max(chord_half(box, radius_m), half_case(box, grain));
  for (const box::Comb& comb : box.combs) half = std::max(half, mm_per_m * comb_reach_m(box, comb));
  Figure figure{.name = "across",
                .title = fmt::format("{}: across it at track {}", box.name, track)};
  SectionSheet sheet(extent_of(scene, half, letters_for(2.0 * half)), figure.title, "across-title");
  draw_case(sheet, scene, grain);
  for (std::size_t i = 0; i < box.combs.size(); ++i)
    draw_comb(sheet, scene, i, box.combs[i].longest_tooth_m * mm_per_m);
  const double axis = -box.star_wheel.axis_below_disc_m * mm_per_m;
  sheet.begin("star_wheel", "star_wheel.tip_radius");
  sheet.circle({0.0, axis}, box.star_wheel.tip_radius_m * mm_per_m, brass_fill);
  sheet.end();
  draw_chord(sheet, box, radius_m);
  measure_combs(sheet, scene);
  sheet.scale_bar();
  figure.svg = sheet.take();
  return figure;
}

}  // namespace combwright::draw
