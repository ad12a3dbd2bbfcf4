// SPDX-License-Identifier: Apache-2.0
#include "draw/certificate_plot.h"

#include <algorithm>
#include <cmath>

#include <cairo.h>
#include <fmt/format.h>

namespace combwright::draw {
namespace {

constexpr Colour band{0.90, 0.94, 0.96};

// Where the marks lie.
struct CentsField {
  double left, right, top, bottom;
  PlotAxis axis;
  std::size_t teeth;

  double x(std::size_t place) const {
    return left + (right - left) * (static_cast<double>(place) + 0.5) / static_cast<double>(teeth);
  }
  double y(double cents) const {
    return bottom - (bottom - top) * (cents - axis.low) / (axis.high - axis.low);
  }
};

std::string tick_cents(double cents, double step) {
  const int decimals = step < 1.0 ? 1 : 0;
  if (std::abs(cents) < 0.5 * step) return "0";
  return fmt::format("{:+.{}f}", cents, decimals);
}

void draw_scale(PdfPages& pages, const CentsField& field) {
  each_tick(field.axis, [&](double cents) {
    const bool zero = std::abs(cents) < 0.5 * field.axis.step;
    stroke_line(pages, field.left, field.y(cents), field.right, field.y(cents), zero ? 0.2 : 0.08,
                zero ? ink : rule);
    pages.text(field.left - 1.5, field.y(cents) + 0.8, tick_cents(cents, field.axis.step),
               tick_style);
  });
}

// Tracks and notes of as many teeth as have the room.
void draw_teeth(PdfPages& pages, const CentsField& field, const CentsPlot& plot) {
  constexpr double room_mm = 8.0;
  const double each_mm = (field.right - field.left) / static_cast<double>(field.teeth);
  const std::size_t every = each_mm >= room_mm ? 1 : 5 * each_mm >= room_mm ? 5 : 10;
  for (std::size_t i = 0; i < field.teeth; ++i) {
    const bool named = (i + 1) % every == 0 || i == 0;
    stroke_line(pages, field.x(i), field.bottom, field.x(i), field.bottom + (named ? 1.4 : 0.7),
                0.1, faint);
    if (!named) continue;
    const TextStyle style{Face::sans, tick_size_mm, faint, Align::centre};
    pages.text(field.x(i), field.bottom + 4.0, fmt::format("{}", i + 1), style);
    pages.text(field.x(i), field.bottom + 7.0, plot.notes[i], style);
  }
}

void draw_marks(PdfPages& pages, const CentsField& field, const CentsPlot& plot) {
  const double radius = std::clamp(0.3 * (field.x(1) - field.x(0)), 0.45, 0.9);
  for (std::size_t i = 0; i < field.teeth; ++i) {
    if (!plot.cents[i]) continue;
    const double cents = *plot.cents[i];
    const bool out = plot.tolerance && std::abs(cents) > *plot.tolerance;
    const Colour& colour = out ? alarm : accent;
    stroke_line(pages, field.x(i), field.y(0.0), field.x(i), field.y(cents), 0.15, colour);
    set_colour(pages, colour);
    cairo_new_path(pages.cairo());
    cairo_arc(pages.cairo(), field.x(i), field.y(cents), radius, 0.0, 6.2831853071795862);
    cairo_fill(pages.cairo());
  }
}

}  // namespace

PlotAxis cents_axis(const CentsPlot& plot) {
  constexpr double most_ticks = 6.0;
  double low = plot.tolerance ? -1.25 * *plot.tolerance : 0.0;
  double high = plot.tolerance ? 1.25 * *plot.tolerance : 0.0;
  for (const auto& cents : plot.cents) {
    if (!cents) continue;
    low = std::min(low, *cents);
    high = std::max(high, *cents);
  }
  constexpr double least_span = 0.1;
  return tick_axis(low, high, most_ticks, least_span);
}

void draw_cents_plot(PdfPages& pages, const PlotPlace& place, const CentsPlot& plot) {
  const CentsField field{place.x_mm + plot_scale_mm, place.x_mm + place.width_mm,
                         place.y_mm + plot_title_mm, place.y_mm + place.height_mm - plot_notes_mm,
                         cents_axis(plot),           plot.cents.size()};
  pages.text(place.x_mm, place.y_mm + 3.0, plot.title, {Face::bold, 2.8, ink, Align::left});
  if (plot.tolerance) {
    fill_rectangle(pages, field.left, field.y(*plot.tolerance), field.right - field.left,
                   field.y(-*plot.tolerance) - field.y(*plot.tolerance), band);
  }
  draw_scale(pages, field);
  draw_teeth(pages, field, plot);
  draw_marks(pages, field, plot);
  for (const auto& [words, below] : {std::pair{"track", 4.0}, std::pair{"note", 7.0}})
    pages.text(field.left - 1.5, field.bottom + below, words, tick_style);
}

}  // namespace combwright::draw
