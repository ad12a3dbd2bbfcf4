// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/check_bar.h"
#include "draw/drawing_pdf.h"
#include "draw/free_space.h"
#include "draw/paint.h"
#include "draw/plain_text.h"
#include "draw/tiling.h"

namespace combwright::draw {
namespace {

constexpr Colour strip_tint{0.95, 0.96, 0.97};
constexpr double upright_bar_x_mm = 3.0;  // in the strip at the left of a sheet
constexpr TextStyle plan_name{Face::bold, 4.2, accent, Align::centre};
constexpr TextStyle sheet_note{Face::sans, tick_size_mm, accent, Align::left};

constexpr double label_height_mm = 2.4;  // of a line of words in an overlap
constexpr double label_below_mm = 0.6;   // of it, below the base line
constexpr double label_from_corner_mm = 22.0;
constexpr double air_mm = 0.6;  // between words and what is drawn

struct Rectangle {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

void fill(PdfPages& pages, const Rectangle& area, const Colour& colour) {
  fill_rectangle(pages, area.x, area.y, area.width, area.height, colour);
}

void frame(PdfPages& pages, const Rectangle& area, double line_mm, const Colour& colour) {
  set_colour(pages, colour);
  cairo_set_line_width(pages.cairo(), line_mm);
  cairo_rectangle(pages.cairo(), area.x, area.y, area.width, area.height);
  cairo_stroke(pages.cairo());
}

void dashed_line(PdfPages& pages, double x0, double y0, double x1, double y1, double dash_mm) {
  auto* cairo = pages.cairo();
  cairo_save(cairo);
  cairo_set_dash(cairo, &dash_mm, 1, 0.0);
  stroke_line(pages, x0, y0, x1, y1, 0.25, accent);
  cairo_restore(cairo);
}

// What an overlap says, and shorter for where there is little room.
using Wordings = std::array<std::string, 3>;

Wordings overlap_words(int row, int column) {
  return {
      fmt::format("overlap: glue row {}, column {} on here, its edge on this line", row, column),
      fmt::format("glue row {}, column {} on here", row, column),
      fmt::format("{} / {} on here", row, column)};
}

// Texts as they are printed.
std::vector<Shape> shapes_of(const Drawing& drawing) {
  std::vector<Shape> shapes;
  shapes.reserve(drawing.items.size());
  for (const auto& item : drawing.items) {
    shapes.push_back(item.shape);
    if (auto* text = std::get_if<Text>(&shapes.back())) text->text = dashed(text->text);
  }
  return shapes;
}

// The same without what the plan of the sheets does not show.
std::vector<Shape> shapes_of_plan(const Drawing& drawing) {
  std::vector<Shape> shapes;
  for (const auto& [layer, shape] : drawing.items) {
    if (layer != Layer::axes && layer != Layer::text) shapes.push_back(shape);
  }
  return shapes;
}

constexpr double register_arm_mm = 4.0;

// What words must keep off: all that is drawn, and the register marks.
std::vector<Shape> obstacles(const Drawing& drawing, const Tiling& tiling) {
  constexpr auto arm = static_cast<std::int64_t>(register_arm_mm * lattice_per_mm);
  auto shapes = shapes_of(drawing);
  for (const auto& [x, y] : tiling.register_at) {
    shapes.emplace_back(Line{{x - arm, y - arm}, {x + arm, y + arm}});
  }
  return shapes;
}

// What all sheets of one drawing share.
struct Job {
  PdfPages& pages;
  const Drawing& drawing;
  const Tiling& tiling;
  const std::vector<Shape> obstacles;
  const Stamp& stamp;
  double margin_mm;
};

// All sheets small, this one filled.
void key_map(const Job& job, const Rectangle& room, const Tile& here) {
  const auto& tiling = job.tiling;
  const double cell = std::min(room.height / tiling.rows, room.width / tiling.columns);
  const double left = room.x + room.width - cell * tiling.columns;
  for (const auto& tile : tiling.tiles) {
    const Rectangle area{left + cell * (tile.column - 1), room.y + cell * (tile.row - 1),
                         cell * 0.9, cell * 0.9};
    if (here.row == tile.row && here.column == tile.column) fill(job.pages, area, accent);
    frame(job.pages, area, 0.2, faint);
  }
}

// The strip at the foot of every page: what it is, the level bar, the stamp.
void foot(const Job& job, double y, double width, const std::string& what) {
  constexpr double what_mm = 54.0;
  constexpr double map_mm = 22.0;
  job.pages.text(job.margin_mm, y + 5.5, what, {Face::bold, 3.2, ink, Align::left});
  job.pages.text_within(job.margin_mm + what_mm, y + 5.5, width - what_mm - map_mm,
                        dashed(job.drawing.title), {Face::sans, note_size_mm, ink, Align::left});
  draw_level_bar(job.pages, job.margin_mm, y + 13.0);
  job.pages.text(job.margin_mm, y + 19.0,
                 fmt::format("Print at 100 %; both bars must measure 100 mm. {} · {}",
                             job.stamp.date, source_words(job.stamp)),
                 {Face::sans, tick_size_mm, ink, Align::left});
}

// One sheet: lattice to page, the marks to join it by, and the strips below and beside it.
class TileSheet {
 public:
  TileSheet(const Job& job, const Tile& tile)
      : job_(job),
        pages_(job.pages),
        tile_(tile),
        area_{job.margin_mm + tile_side_mm, job.margin_mm,
              to_mm(tile.window.high.x - tile.window.low.x),
              to_mm(tile.window.high.y - tile.window.low.y)} {}

  void draw() {
    tint_overlaps();
    paint_drawing();
    label_overlaps();
    cut_lines();
    register_marks();
    strips();
  }

 private:
  double right() const { return area_.x + area_.width; }
  double bottom() const { return area_.y + area_.height; }
  bool alone() const { return job_.tiling.tiles.size() == 1; }
  bool has_left() const { return job_.tiling.has(tile_.row, tile_.column - 1); }
  bool has_right() const { return job_.tiling.has(tile_.row, tile_.column + 1); }
  bool has_above() const { return job_.tiling.has(tile_.row - 1, tile_.column); }
  bool has_below() const { return job_.tiling.has(tile_.row + 1, tile_.column); }

  void paint_drawing() {
    auto* cairo = pages_.cairo();
    cairo_save(cairo);
    if (!alone()) {
      cairo_rectangle(cairo, area_.x, area_.y, area_.width, area_.height);
      cairo_clip(cairo);
    }
    paint(pages_, job_.drawing, tile_.window,
          {area_.x - to_mm(tile_.window.low.x), area_.y + to_mm(tile_.window.high.y), 1.0});
    cairo_restore(cairo);
    if (!alone()) frame(pages_, area_, 0.1, faint);
  }

  // The neighbours at the right and below come to lie on these strips.
  void tint_overlaps() {
    if (has_right()) {
      fill(pages_, {right() - tile_overlap_mm, area_.y, tile_overlap_mm, area_.height}, strip_tint);
    }
    if (has_below()) {
      fill(pages_, {area_.x, bottom() - tile_overlap_mm, area_.width, tile_overlap_mm}, strip_tint);
    }
  }

  void label_overlaps() {
    if (has_right()) {
      const double x = right() - tile_overlap_mm;
      stroke_line(pages_, x, area_.y, x, bottom(), 0.1, accent);
      label_upright(overlap_words(tile_.row, tile_.column + 1));
    }
    if (has_below()) {
      const double y = bottom() - tile_overlap_mm;
      stroke_line(pages_, area_.x, y, right(), y, 0.1, accent);
      label_level(overlap_words(tile_.row + 1, tile_.column));
    }
  }

  // Words stand where nothing is drawn, near the lower left end of their strip: the longest that
  // find a place there. Without any the tint and the plan of the sheets have to do.
  void label_upright(const Wordings& wordings) {
    const Rectangle strip{right() - tile_overlap_mm, area_.y, tile_overlap_mm, area_.height};
    for (const auto& words : wordings) {
      const auto place = free_place(strip, label_height_mm, pages_.text_width(words, sheet_note),
                                    strip.x, bottom() - label_from_corner_mm);
      if (!place) continue;
      upright_text(pages_, place->x + label_height_mm - label_below_mm, place->y + place->height,
                   words, sheet_note);
      return;
    }
  }

  void label_level(const Wordings& wordings) {
    const Rectangle strip{area_.x, bottom() - tile_overlap_mm, area_.width, tile_overlap_mm};
    for (const auto& words : wordings) {
      const auto place = free_place(strip, pages_.text_width(words, sheet_note), label_height_mm,
                                    area_.x + label_from_corner_mm, strip.y + label_height_mm);
      if (!place) continue;
      pages_.text(place->x, place->y + label_height_mm - label_below_mm, words, sheet_note);
      return;
    }
  }

  // The free place in the strip whose lower left corner is nearest to (x, y).
  std::optional<Rectangle> free_place(const Rectangle& strip, double width, double height, double x,
                                      double y) const {
    const auto at = [this](double page_x, double page_y) {
      return Point{tile_.window.low.x + to_lattice((page_x - area_.x) / 1000.0),
                   tile_.window.high.y - to_lattice((page_y - area_.y) / 1000.0)};
    };
    const Box2 room{at(strip.x, strip.y + strip.height), at(strip.x + strip.width, strip.y)};
    const auto with_air = [](double size) { return to_lattice((size + 2.0 * air_mm) / 1000.0); };
    const auto found =
        nearest_free(job_.obstacles, room, with_air(width), with_air(height), at(x, y));
    if (!found) return std::nullopt;
    return Rectangle{area_.x + air_mm + to_mm(found->x - tile_.window.low.x),
                     area_.y - air_mm + to_mm(tile_.window.high.y - found->y) - height, width,
                     height};
  }

  void cut_lines() {
    constexpr double dash_mm = 2.0;
    constexpr double from_corner_mm = 22.0;
    if (has_left()) {
      dashed_line(pages_, area_.x, area_.y - 3.0, area_.x, bottom() + 3.0, dash_mm);
      upright_text(pages_, area_.x - 1.0, area_.y + from_corner_mm + 16.0, "cut here", sheet_note);
    }
    if (has_above()) {
      dashed_line(pages_, area_.x - 3.0, area_.y, right() + 3.0, area_.y, dash_mm);
      pages_.text(area_.x + from_corner_mm, area_.y - 1.0, "cut here", sheet_note);
    }
  }

  void register_marks() {
    constexpr double arm_mm = register_arm_mm;
    for (const auto& at : job_.tiling.register_at) {
      if (!Box2{at, at}.overlaps(tile_.window)) continue;
      const double x = area_.x + to_mm(at.x - tile_.window.low.x);
      const double y = area_.y + to_mm(tile_.window.high.y - at.y);
      stroke_line(pages_, x - arm_mm, y, x + arm_mm, y, 0.1, ink);
      stroke_line(pages_, x, y - arm_mm, x, y + arm_mm, 0.1, ink);
      stroke_circle(pages_, x, y, arm_mm / 2.0, 0.1, ink);
    }
  }

  void strips() {
    constexpr double map_width_mm = 20.0;
    constexpr double map_height_mm = 8.0;
    draw_upright_bar(pages_, job_.margin_mm + upright_bar_x_mm, bottom());
    foot(job_, bottom(), right() - job_.margin_mm,
         alone() ? "One sheet"
                 : fmt::format("Row {} of {}, column {} of {}", tile_.row, job_.tiling.rows,
                               tile_.column, job_.tiling.columns));
    if (!alone())
      key_map(job_, {right() - map_width_mm, bottom() + 1.5, map_width_mm, map_height_mm}, tile_);
  }

  const Job& job_;
  PdfPages& pages_;
  const Tile& tile_;
  Rectangle area_;
};

// The tile's name near its middle, where nothing is drawn, off the strips that it shares.
void name_tile(const Job& job, const std::vector<Shape>& shown, const Tile& tile,
               const Placement& at) {
  constexpr double height_mm = 4.4;
  constexpr double below_mm = 0.7;  // the base line
  constexpr auto shared = static_cast<std::int64_t>(tile_overlap_mm * lattice_per_mm);
  const auto name = fmt::format("{} / {}", tile.row, tile.column);
  const auto true_size = [&at](double page_mm) { return to_lattice(page_mm / at.scale / 1000.0); };
  const auto width = true_size(job.pages.text_width(name, plan_name) + 2.0 * air_mm);
  const auto height = true_size(height_mm + 2.0 * air_mm);
  const auto& [low, high] = tile.window;
  const Point middle{(low.x + high.x - width) / 2, (low.y + high.y - height) / 2};
  const Box2 room{{low.x + shared, low.y + shared}, {high.x - shared, high.y - shared}};
  const auto [x, y] = nearest_free(shown, room, width, height, middle).value_or(middle);
  job.pages.text(at.origin_x_mm + at.scale * to_mm(x + width / 2),
                 at.origin_y_mm - at.scale * to_mm(y) - below_mm - air_mm, name, plan_name);
}

// The drawing small, with the sheets' outlines over it.
void draw_plan(const Job& job, const Rectangle& room) {
  const auto& tiles = job.tiling.tiles;
  if (tiles.empty()) return;
  Drawing outlines;
  for (const auto& tile : tiles) {
    outlines.add(Layer::marks, Line{tile.window.low, tile.window.high});
  }
  const auto [low, high] = bounds(outlines);
  const double scale =
      std::min({1.0, room.width / to_mm(high.x - low.x), room.height / to_mm(high.y - low.y)});
  const double x0 = room.x + (room.width - scale * to_mm(high.x - low.x)) / 2.0;
  const Placement at{x0 - scale * to_mm(low.x), room.y + scale * to_mm(high.y), scale};
  paint(job.pages, job.drawing, {low, high}, at, Ink::solid);
  const std::vector<Shape> shown = shapes_of_plan(job.drawing);
  for (const auto& tile : tiles) {
    const Rectangle area{at.origin_x_mm + scale * to_mm(tile.window.low.x),
                         at.origin_y_mm - scale * to_mm(tile.window.high.y),
                         scale * to_mm(tile.window.high.x - tile.window.low.x),
                         scale * to_mm(tile.window.high.y - tile.window.low.y)};
    frame(job.pages, area, 0.25, accent);
    name_tile(job, shown, tile, at);
  }
}

void plan_page(const Job& job, const PageSize& page) {
  constexpr const char* how =
      "Each sheet is named row / column, from the upper left. Print at 100 % and measure both bars "
      "on every sheet. Cut along the dashed lines, at the left and above. Begin at the upper left: "
      "lay each sheet on the tinted strips of those before it, its cut edges on the lines there "
      "and "
      "the register marks over one another, and glue. Then measure the diameter of the disc.";
  const double left = job.margin_mm + tile_side_mm;
  const double width = page.width_mm - job.margin_mm - left;
  const double foot_y = page.height_mm - job.margin_mm - tile_strip_mm;
  job.pages.text(left, job.margin_mm + 5.0, "How the sheets join",
                 {Face::serif, 5.6, accent, Align::left});
  const double words_y = job.margin_mm + 8.5;
  const double top =
      words_y + 4.0 +
      job.pages.paragraph(left, words_y, width, how, {Face::sans, 3.1, ink, Align::left});
  draw_plan(job, {left, top, width, foot_y - top - 3.0});
  draw_upright_bar(job.pages, job.margin_mm + upright_bar_x_mm, foot_y);
  foot(job, foot_y, page.width_mm - 2.0 * job.margin_mm,
       fmt::format("Plan of {} sheets", job.tiling.tiles.size()));
}

}  // namespace

std::string write_tiled_pdf(const Drawing& drawing, const box::Paper& paper, const Stamp& stamp) {
  const auto tiling = tile(drawing, paper);
  const PageSize page{paper.width_m * 1000.0, paper.height_m * 1000.0};
  PdfPages pages(page, info_of(drawing, stamp));
  const Job job{pages, drawing, tiling, obstacles(drawing, tiling), stamp, paper.margin_m * 1000.0};
  if (tiling.tiles.size() > 1) {
    plan_page(job, page);
    pages.end_page();
  }
  for (const auto& each : tiling.tiles) {
    TileSheet(job, each).draw();
    pages.end_page();
  }
  return pages.finish();
}

}  // namespace combwright::draw
