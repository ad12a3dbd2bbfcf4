// SPDX-License-Identifier: Apache-2.0
#include "draw/drawing_pdf.h"

#include <algorithm>
#include <numbers>

#include <cairo.h>
#include <fmt/core.h>

#include "draw/paint.h"
#include "draw/pdf_pages.h"
#include "draw/tiling.h"

namespace combwright::draw {
namespace {

constexpr double page_margin_mm = 10.0;
constexpr double bar_mm = 100.0;

PdfInfo info_of(const Drawing& drawing, const PackStamp& stamp) {
  return {drawing.title, "Drawing at true size, plan " + short_checksum(stamp), stamp.date};
}

// One sheet: lattice to page, and the strip below.
class TileSheet {
 public:
  TileSheet(PdfPages& pages, const box::Paper& paper, const Tiling& tiling, const Tile& tile)
      : pages_(pages), tiling_(tiling), tile_(tile), margin_mm_(paper.margin_m * 1000.0) {}

  void paint_drawing(const Drawing& drawing) {
    auto* cairo = pages_.cairo();
    cairo_save(cairo);
    cairo_rectangle(cairo, margin_mm_, margin_mm_, width_mm(), height_mm());
    cairo_clip(cairo);
    paint(pages_, drawing, tile_.window,
          {margin_mm_ - to_mm(tile_.window.low.x), margin_mm_ + to_mm(tile_.window.high.y), 1.0});
    cairo_restore(cairo);
    set_colour(pages_, rule);
    cairo_set_line_width(cairo, 0.1);
    cairo_rectangle(cairo, margin_mm_, margin_mm_, width_mm(), height_mm());
    cairo_stroke(cairo);
  }

  void register_marks() {
    constexpr double arm_mm = 4.0;
    for (const auto& at : tiling_.register_at) {
      if (!Box2{at, at}.overlaps(tile_.window)) continue;
      const double x = margin_mm_ + to_mm(at.x - tile_.window.low.x);
      const double y = margin_mm_ + to_mm(tile_.window.high.y - at.y);
      stroke_line(pages_, x - arm_mm, y, x + arm_mm, y, 0.1, ink);
      stroke_line(pages_, x, y - arm_mm, x, y + arm_mm, 0.1, ink);
      cairo_arc(pages_.cairo(), x, y, arm_mm / 2.0, 0.0, 2.0 * std::numbers::pi);
      cairo_stroke(pages_.cairo());
    }
  }

  void label_strip(const Drawing& drawing, const PackStamp& stamp) {
    const double y = margin_mm_ + height_mm();
    pages_.text(margin_mm_, y + 5.5,
                fmt::format("Row {} of {}, column {} of {}", tile_.row, tiling_.rows, tile_.column,
                            tiling_.columns),
                {Face::bold, 3.2, ink, Align::left});
    pages_.text_within(margin_mm_ + 52.0, y + 5.5, width_mm() - 52.0 - 24.0, drawing.title,
                       {Face::sans, 2.8, faint, Align::left});
    check_bar(margin_mm_, y + 12.0);
    pages_.text(margin_mm_, y + 17.5,
                fmt::format("Print at 100 %; the bar must measure 100 mm. {}, plan {}", stamp.date,
                            short_checksum(stamp)),
                {Face::sans, 2.4, faint, Align::left});
    key_map(margin_mm_ + width_mm(), y + 3.0);
  }

 private:
  double width_mm() const { return to_mm(tile_.window.high.x - tile_.window.low.x); }
  double height_mm() const { return to_mm(tile_.window.high.y - tile_.window.low.y); }

  void check_bar(double x, double y) {
    stroke_line(pages_, x, y, x + bar_mm, y, 0.2, ink);
    for (int i = 0; i <= 10; ++i) {
      const double up = i % 5 == 0 ? 2.5 : 1.2;
      stroke_line(pages_, x + 10.0 * i, y - up, x + 10.0 * i, y, 0.2, ink);
    }
    pages_.text(x + bar_mm + 1.5, y, "100 mm", {Face::sans, 2.4, ink, Align::left});
  }

  // All sheets small, this one filled, those left out without a frame.
  void key_map(double right, double top) {
    constexpr double height = 15.0;
    const double cell = std::min(height / tiling_.rows, 20.0 / tiling_.columns);
    const double left = right - cell * tiling_.columns;
    for (const auto& other : tiling_.tiles) {
      cairo_rectangle(pages_.cairo(), left + cell * (other.column - 1),
                      top + cell * (other.row - 1), cell * 0.9, cell * 0.9);
      const bool here = other.row == tile_.row && other.column == tile_.column;
      set_colour(pages_, here ? accent : rule);
      cairo_set_line_width(pages_.cairo(), 0.2);
      if (here) cairo_fill_preserve(pages_.cairo());
      cairo_stroke(pages_.cairo());
    }
  }

  PdfPages& pages_;
  const Tiling& tiling_;
  const Tile& tile_;
  double margin_mm_;
};

}  // namespace

std::string write_drawing_pdf(const Drawing& drawing, const PackStamp& stamp) {
  const auto box = bounds(drawing);
  const PageSize page{to_mm(box.high.x - box.low.x) + 2.0 * page_margin_mm,
                      to_mm(box.high.y - box.low.y) + 2.0 * page_margin_mm};
  PdfPages pages(page, info_of(drawing, stamp));
  paint(pages, drawing, box,
        {page_margin_mm - to_mm(box.low.x), page_margin_mm + to_mm(box.high.y), 1.0});
  pages.end_page();
  return pages.finish();
}

std::string write_tiled_pdf(const Drawing& drawing, const box::Paper& paper,
                            const PackStamp& stamp) {
  const auto tiling = tile(drawing, paper);
  PdfPages pages({paper.width_m * 1000.0, paper.height_m * 1000.0}, info_of(drawing, stamp));
  for (const auto& each : tiling.tiles) {
    TileSheet sheet(pages, paper, tiling, each);
    sheet.paint_drawing(drawing);
    sheet.register_marks();
    sheet.label_strip(drawing, stamp);
    pages.end_page();
  }
  return pages.finish();
}

}  // namespace combwright::draw
