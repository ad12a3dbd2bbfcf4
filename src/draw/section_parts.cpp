// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "box/measures.h"
#include "draw/section_figures.h"

namespace combwright::draw {
namespace {

// Of what is not known, and of the break drawn for it.
constexpr double break_letters = 1.6;

const steel::CombTooth* lowest_tooth(const SectionScene& scene, std::size_t comb) {
  if (comb >= scene.designs.size()) return nullptr;
  const auto track = static_cast<std::size_t>(box::track_of_place(scene.box, 0)) - 1;
  return &scene.designs[comb].teeth.at(track);
}

// How thick the tooth is at a place from its root.
double thickness_mm(const steel::CombTooth& tooth, double from_root_m) {
  return steel::thickness_m(tooth.in_tune, from_root_m) * mm_per_m;
}

bool down(const SectionScene& scene, std::size_t comb) {
  return scene.box.combs[comb].plucked == box::Plucked::down;
}

double board_high(const SectionScene& scene, double letters) {
  return lowest_bedplate(scene) - break_letters * letters;
}

}  // namespace

std::string comb_key(std::size_t comb, std::string_view name) {
  return comb == 0 ? fmt::format("comb.{}", name) : fmt::format("comb {}.{}", comb + 1, name);
}

CombHeights comb_heights(const SectionScene& scene, std::size_t i) {
  const box::Comb& comb = scene.box.combs[i];
  const double axis = -scene.box.star_wheel.axis_below_disc_m * mm_per_m;
  const double plate = comb.plate_thickness_m * mm_per_m;
  CombHeights heights;
  const steel::CombTooth* const tooth = lowest_tooth(scene, i);
  if (down(scene, i)) {
    heights.struck = axis + comb.level_m * mm_per_m;
    heights.plate_high = heights.struck;
    heights.plate_low = heights.struck - plate;
    heights.teeth_low = heights.struck - (tooth != nullptr ? thickness_mm(*tooth, 0.0) : plate);
  } else {
    heights.struck = axis - comb.level_m * mm_per_m;
    heights.plate_low = heights.struck;
    heights.plate_high = heights.struck + plate;
    heights.teeth_low = heights.struck;
  }
  heights.bedplate = heights.teeth_low - comb.room_below_m * mm_per_m;
  return heights;
}

double lowest_bedplate(const SectionScene& scene) {
  double low = 0.0;
  for (std::size_t i = 0; i < scene.box.combs.size(); ++i)
    low = std::min(low, comb_heights(scene, i).bedplate);
  return low;
}

void draw_comb(SectionSheet& sheet, const SectionScene& scene, std::size_t i, double shown) {
  const box::Comb& comb = scene.box.combs[i];
  const box::StarWheel& wheel = scene.box.star_wheel;
  const CombHeights heights = comb_heights(scene, i);
  const double side = down(scene, i) ? 1.0 : -1.0;
  const double tip = (wheel.tip_radius_m - wheel.tooth_overlap_m) * mm_per_m;
  const double length = box::tooth_length_m(scene.box, comb, 0) * mm_per_m;
  const double root = tip + length;
  const bool whole = shown >= length;
  const double end = tip + std::min(shown, length);
  sheet.begin("comb", comb_key(i, "longest_tooth"));
  if (const steel::CombTooth* const tooth = lowest_tooth(scene, i)) {
    const auto under = [&](double from_axis) {
      return heights.struck - side * thickness_mm(*tooth, (root - from_axis) / mm_per_m);
    };
    // A step of the thickness is drawn as steep as the samples lie close.
    constexpr int steps = 60;
    std::vector<Place> outline{{side * end, heights.struck}, {side * tip, heights.struck}};
    for (int k = 0; k <= steps; ++k) {
      const double at = std::lerp(tip, end, static_cast<double>(k) / steps);
      outline.push_back({side * at, under(at)});
    }
    sheet.outline(outline, steel_fill);
    sheet.end();
    sheet.begin("lead");
    for (const steel::Lead& lead : tooth->in_tune.leads) {
      const double middle = root - lead.center_m * mm_per_m;
      const double half = 0.5 * lead.length_m * mm_per_m;
      if (middle - half > end) continue;
      const double high = std::min(under(middle), heights.struck);
      const double from = side * (middle - half);
      const double to = side * std::min(middle + half, end);
      sheet.rectangle(std::min(from, to), std::max(from, to), high - lead.height_m * mm_per_m, high,
                      lead_fill);
    }
  } else {
    const double far = down(scene, i) ? heights.plate_low : heights.plate_high;
    sheet.line({side * tip, heights.struck}, {side * end, heights.struck});
    sheet.dashed_rectangle(std::min(side * tip, side * end), std::max(side * tip, side * end),
                           std::min(far, heights.struck), std::max(far, heights.struck));
  }
  sheet.end();
  if (!whole) return;
  const double back = root + comb.bar_depth_m * mm_per_m;
  sheet.begin("comb", comb_key(i, "plate_thickness"));
  sheet.rectangle(std::min(side * root, side * back), std::max(side * root, side * back),
                  heights.plate_low, heights.plate_high, steel_fill);
  sheet.end();
  sheet.begin("comb", comb_key(i, "room_below"));
  sheet.line({side * tip, heights.bedplate}, {side * back, heights.bedplate});
  sheet.end();
}

double floor_of_case(const SectionScene& scene, double letters) {
  return board_high(scene, letters) -
         (scene.box.soundboard.thickness_m + scene.box.cabinet.height_m) * mm_per_m;
}

void draw_case(SectionSheet& sheet, const SectionScene& scene, bool along_grain) {
  const box::Soundboard& board = scene.box.soundboard;
  const box::Cabinet& cabinet = scene.box.cabinet;
  const double letters = sheet.letters();
  const double high = board_high(scene, letters);
  const double low = high - board.thickness_m * mm_per_m;
  const double floor = floor_of_case(scene, letters);
  const double half_board = 0.5 * mm_per_m * (along_grain ? board.length_m : board.width_m);
  const double half = 0.5 * mm_per_m * (along_grain ? cabinet.length_m : cabinet.width_m);
  const double middle = 0.5 * (lowest_bedplate(scene) + high);
  sheet.broken(-half_board, half_board, middle + 0.25 * letters);
  sheet.broken(-half_board, half_board, middle - 0.25 * letters);
  const char* const board_side = along_grain ? "length" : "width";
  sheet.begin("soundboard", "soundboard.thickness");
  sheet.rectangle(-half_board, half_board, low, high, wood_fill);
  sheet.end();
  sheet.begin("soundboard", fmt::format("soundboard.{}", board_side));
  sheet.measure_across(
      -half_board, half_board, low - 1.8 * letters, low,
      fmt::format("soundboard {}", length_words(along_grain ? board.length_m : board.width_m)));
  sheet.end();
  sheet.begin("cabinet");
  sheet.line({-half, low}, {-half, floor});
  sheet.line({-half, floor}, {half, floor});
  sheet.line({half, floor}, {half, low});
  sheet.end();
  sheet.begin("cabinet", fmt::format("cabinet.{}", board_side));
  sheet.measure_across(-half, half, floor - 1.8 * letters, floor,
                       fmt::format("cabinet inside {}",
                                   length_words(along_grain ? cabinet.length_m : cabinet.width_m)));
  sheet.end();
  sheet.begin("cabinet", "cabinet.height");
  sheet.measure_up(floor, low, half + letters, half, length_words(cabinet.height_m));
  sheet.end();
}

}  // namespace combwright::draw
