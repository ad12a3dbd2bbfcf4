// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/check_bar.h"
#include "draw/drawing_pdf.h"
#include "draw/paint.h"
#include "draw/tiling.h"

namespace combwright::draw {
namespace {

constexpr Colour strip_tint{0.95, 0.96, 0.97};
constexpr double upright_bar_x_mm = 3.0;  // in the strip at the left of a sheet
constexpr TextStyle plan_name{Face::bold, 4.2, accent, Align::centre};
constexpr TextStyle sheet_note{Face::sans, tick_size_mm, accent, Align::left};

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

std::string overlap_words(int row, int column) {
  return fmt::format("overlap: glue row {}, column {} on here, its edge on this line", row, column);
}

// What all sheets of one drawing share.
struct Job {
  PdfPages& pages;
  const Drawing& drawing;
  const Tiling& tiling;
  const PackStamp& stamp;
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
                        job.drawing.title, {Face::sans, note_size_mm, ink, Align::left});
  draw_level_bar(job.pages, job.margin_mm, y + 13.0);
  job.pages.text(job.margin_mm, y + 19.0,
                 fmt::format("Print at 100 %; both bars must measure 100 mm. {} · plan {}",
                             job.stamp.date, short_checksum(job.stamp)),
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
  bool has_left() const { return job_.tiling.has(tile_.row, tile_.column - 1); }
  bool has_right() const { return job_.tiling.has(tile_.row, tile_.column + 1); }
  bool has_above() const { return job_.tiling.has(tile_.row - 1, tile_.column); }
  bool has_below() const { return job_.tiling.has(tile_.row + 1, tile_.column); }

  void paint_drawing() {
    auto* cairo = pages_.cairo();
    cairo_save(cairo);
    cairo_rectangle(cairo, area_.x, area_.y, area_.width, area_.height);
    cairo_clip(cairo);
    paint(pages_, job_.drawing, tile_.window,
          {area_.x - to_mm(tile_.window.low.x), area_.y + to_mm(tile_.window.high.y), 1.0});
    cairo_restore(cairo);
    frame(pages_, area_, 0.1, faint);
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

  // The words hide what they stand on; the sheet that is glued over them shows it again.
  void label_overlaps() {
    constexpr double from_corner_mm = 22.0;
    constexpr double inset_mm = 3.2;
    if (has_right()) {
      const double x = right() - tile_overlap_mm;
      const double y = bottom() - from_corner_mm;
      const auto words = overlap_words(tile_.row, tile_.column + 1);
      const double length = pages_.text_width(words, sheet_note);
      fill(pages_, {x, y - length - 1.0, inset_mm + 1.0, length + 2.0}, strip_tint);
      stroke_line(pages_, x, area_.y, x, bottom(), 0.1, accent);
      upright_text(pages_, x + inset_mm, y, words, sheet_note);
    }
    if (has_below()) {
      const double x = area_.x + from_corner_mm;
      const double y = bottom() - tile_overlap_mm;
      const auto words = overlap_words(tile_.row + 1, tile_.column);
      fill(pages_, {x - 1.0, y, pages_.text_width(words, sheet_note) + 2.0, inset_mm + 1.0},
           strip_tint);
      stroke_line(pages_, area_.x, y, right(), y, 0.1, accent);
      pages_.text(x, y + inset_mm, words, sheet_note);
    }
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
      pages_.text(area_.x + from_corner_mm, area_.y + 2.8, "cut here", sheet_note);
    }
  }

  void register_marks() {
    constexpr double arm_mm = 4.0;
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
         fmt::format("Row {} of {}, column {} of {}", tile_.row, job_.tiling.rows, tile_.column,
                     job_.tiling.columns));
    key_map(job_, {right() - map_width_mm, bottom() + 1.5, map_width_mm, map_height_mm}, tile_);
  }

  const Job& job_;
  PdfPages& pages_;
  const Tile& tile_;
  Rectangle area_;
};

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
  for (const auto& tile : tiles) {
    const Rectangle area{at.origin_x_mm + scale * to_mm(tile.window.low.x),
                         at.origin_y_mm - scale * to_mm(tile.window.high.y),
                         scale * to_mm(tile.window.high.x - tile.window.low.x),
                         scale * to_mm(tile.window.high.y - tile.window.low.y)};
    frame(job.pages, area, 0.25, accent);
    const double x = area.x + area.width / 2.0;
    const double y = area.y + area.height / 2.0;
    const auto name = fmt::format("{} / {}", tile.row, tile.column);
    const double half_width = job.pages.text_width(name, plan_name) / 2.0 + 1.0;
    fill(job.pages, {x - half_width, y - 3.0, 2.0 * half_width, 6.0}, {1.0, 1.0, 1.0});
    job.pages.text(x, y + 1.5, name, plan_name);
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

std::string write_tiled_pdf(const Drawing& drawing, const box::Paper& paper,
                            const PackStamp& stamp) {
  const auto tiling = tile(drawing, paper);
  const PageSize page{paper.width_m * 1000.0, paper.height_m * 1000.0};
  PdfPages pages(page, info_of(drawing, stamp));
  const Job job{pages, drawing, tiling, stamp, paper.margin_m * 1000.0};
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
