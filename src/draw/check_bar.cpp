// SPDX-License-Identifier: Apache-2.0
#include "draw/check_bar.h"

#include <numbers>

#include <cairo.h>

namespace combwright::draw {
namespace {

constexpr TextStyle bar_style{Face::sans, tick_size_mm, ink, Align::centre};
constexpr const char* bar_words = "100 mm";
constexpr double bar_line_mm = 0.2;

double tick_mm(int i) {
  return i % 5 == 0 ? 2.5 : 1.2;
}

}  // namespace

void draw_level_bar(PdfPages& pages, double x_mm, double y_mm) {
  stroke_line(pages, x_mm, y_mm, x_mm + check_bar_mm, y_mm, bar_line_mm, ink);
  for (int i = 0; i <= 10; ++i) {
    const double x = x_mm + check_bar_mm * i / 10.0;
    stroke_line(pages, x, y_mm - tick_mm(i), x, y_mm, bar_line_mm, ink);
  }
  pages.text(x_mm + check_bar_mm / 2.0, y_mm + 2.6, bar_words, bar_style);
}

void draw_upright_bar(PdfPages& pages, double x_mm, double y_mm) {
  stroke_line(pages, x_mm, y_mm, x_mm, y_mm - check_bar_mm, bar_line_mm, ink);
  for (int i = 0; i <= 10; ++i) {
    const double y = y_mm - check_bar_mm * i / 10.0;
    stroke_line(pages, x_mm - tick_mm(i), y, x_mm, y, bar_line_mm, ink);
  }
  upright_text(pages, x_mm + 2.6, y_mm - check_bar_mm / 2.0, bar_words, bar_style);
}

void upright_text(PdfPages& pages, double x_mm, double y_mm, std::string_view text,
                  const TextStyle& style) {
  auto* cairo = pages.cairo();
  cairo_save(cairo);
  cairo_translate(cairo, x_mm, y_mm);
  cairo_rotate(cairo, -std::numbers::pi / 2.0);
  pages.text(0.0, 0.0, text, style);
  cairo_restore(cairo);
}

}  // namespace combwright::draw
