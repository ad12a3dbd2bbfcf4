// SPDX-License-Identifier: Apache-2.0
#include "draw/drawing_pdf.h"

#include <algorithm>

#include <fmt/core.h>

#include "draw/check_bar.h"
#include "draw/paint.h"
#include "draw/plain_text.h"

namespace combwright::draw {
namespace {

constexpr double margin_mm = drawing_page_margin_mm;

// What the sheet is, above the disc.
void write_page_head(PdfPages& pages, const PageSize& page, const Drawing& drawing,
                     const Stamp& stamp) {
  const double width = page.width_mm - 2.0 * margin_mm;
  pages.text_within(margin_mm, 9.5, width, dashed(drawing.title),
                    {Face::bold, 3.6, ink, Align::left});
  pages.text_within(margin_mm, 14.5, width,
                    fmt::format("{} · {} · true size: print at 100 %, then measure both bars",
                                stamp.date, source_words(stamp)),
                    {Face::sans, note_size_mm, ink, Align::left});
}

}  // namespace

PdfInfo info_of(const Drawing& drawing, const Stamp& stamp) {
  return {dashed(drawing.title), "Drawing at true size, " + source_words(stamp), stamp.date};
}

std::string write_drawing_pdf(const Drawing& drawing, const Stamp& stamp) {
  const auto [low, high] = bounds(drawing);
  const auto side = [](double length_mm) {
    return std::max(length_mm, check_bar_mm + margin_mm) + 2.0 * margin_mm;
  };
  const PageSize page{side(to_mm(high.x - low.x)), side(to_mm(high.y - low.y))};
  PdfPages pages(page, info_of(drawing, stamp));
  paint(pages, drawing, {low, high},
        {(page.width_mm - to_mm(low.x + high.x)) / 2.0,
         (page.height_mm + to_mm(low.y + high.y)) / 2.0, 1.0});
  write_page_head(pages, page, drawing, stamp);
  draw_level_bar(pages, margin_mm, page.height_mm - 9.0);
  draw_upright_bar(pages, 9.0, page.height_mm - margin_mm);
  pages.end_page();
  return pages.finish();
}

}  // namespace combwright::draw
