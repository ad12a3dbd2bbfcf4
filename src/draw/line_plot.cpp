// SPDX-License-Identifier: Apache-2.0
#include "draw/line_plot.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <cairo.h>
#include <fmt/format.h>

namespace combwright::draw {
namespace {

constexpr Colour shade{0.90, 0.94, 0.96};

std::string tick_words(double value, double step) {
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  return fmt::format("{:.{}f}", std::abs(value) < 0.5 * step ? 0.0 : value, decimals);
}

struct PlotField {
  double left, right, top, bottom;
  PlotAxis across, up;

  double x(double value) const {
    return left + (right - left) * (value - across.low) / (across.high - across.low);
  }
  double y(double value) const {
    return bottom - (bottom - top) * (value - up.low) / (up.high - up.low);
  }
};

void draw_axes(PdfPages& pages, const PlotField& field, const LinePlot& plot) {
  each_tick(field.up, [&](double value) {
    stroke_line(pages, field.left, field.y(value), field.right, field.y(value), 0.08, rule);
    pages.text(field.left - 1.5, field.y(value) + 0.8, tick_words(value, field.up.step),
               tick_style);
  });
  stroke_line(pages, field.left, field.bottom, field.right, field.bottom, 0.2, ink);
  const TextStyle below{Face::sans, tick_size_mm, faint, Align::centre};
  each_tick(field.across, [&](double value) {
    stroke_line(pages, field.x(value), field.bottom, field.x(value), field.bottom + 1.0, 0.1,
                faint);
    pages.text(field.x(value), field.bottom + 3.8, tick_words(value, field.across.step), below);
  });
  pages.text(0.5 * (field.left + field.right), field.bottom + 7.4, plot.across, below);
}

void draw_line(PdfPages& pages, const PlotField& field, const PlotLine& line, bool dots) {
  set_colour(pages, accent);
  cairo_t* cairo = pages.cairo();
  cairo_set_line_width(cairo, 0.4);
  cairo_new_path(cairo);
  for (const auto& [x, y] : line) cairo_line_to(cairo, field.x(x), field.y(y));
  cairo_stroke(cairo);
  if (!dots) return;
  for (const auto& [x, y] : line) {
    cairo_new_path(cairo);
    cairo_arc(cairo, field.x(x), field.y(y), 0.8, 0.0, 6.2831853071795862);
    cairo_fill(cairo);
  }
}

}  // namespace

void draw_line_plot(PdfPages& pages, const PlotPlace& place, const LinePlot& plot) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  double left = infinite;
  double right = -infinite;
  double low = plot.level.value_or(infinite);
  double high = plot.level.value_or(-infinite);
  for (const PlotLine& line : plot.lines) {
    for (const auto& [x, y] : line) {
      left = std::min(left, x);
      right = std::max(right, x);
      low = std::min(low, y);
      high = std::max(high, y);
    }
  }
  if (left > right) return;
  const double more = std::max(0.0, 0.5 * (plot.least_height - (high - low)));
  const PlotField field{place.x_mm + plot_scale_mm,   place.x_mm + place.width_mm,
                        place.y_mm + plot_title_mm,   place.y_mm + place.height_mm - plot_notes_mm,
                        tick_axis(left, right, 10.0), tick_axis(low - more, high + more, 6.0)};
  pages.text(place.x_mm, place.y_mm + 3.0, plot.title, {Face::bold, 2.8, ink, Align::left});
  if (plot.span) {
    fill_rectangle(pages, field.x(plot.span->first), field.top,
                   field.x(plot.span->second) - field.x(plot.span->first), field.bottom - field.top,
                   shade);
  }
  draw_axes(pages, field, plot);
  if (plot.level)
    stroke_line(pages, field.left, field.y(*plot.level), field.right, field.y(*plot.level), 0.25,
                ink);
  for (const PlotLine& line : plot.lines) draw_line(pages, field, line, plot.dots);
}

}  // namespace combwright::draw
