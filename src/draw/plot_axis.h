// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

// Where a plot stands on a page, and how its scales are ticked.
namespace combwright::draw {

struct PlotPlace {
  double x_mm;  // upper left corner with the words around it
  double y_mm;
  double width_mm;
  double height_mm;
};

// Room of a plot's words.
inline constexpr double plot_title_mm = 6.0;
inline constexpr double plot_scale_mm = 13.0;  // left of the field
inline constexpr double plot_notes_mm = 9.0;   // below it

// The least and the greatest of a scale, and the step of its ticks.
struct PlotAxis {
  double low;
  double high;
  double step;
};

// Ticks of 1, 2 or 5 times a power of ten that take in both ends, about `most` of them over what
// lies between or over `least_span`.
PlotAxis tick_axis(double low, double high, double most, double least_span = 0.0);

template <class F>
void each_tick(const PlotAxis& axis, F&& f) {
  const auto ticks = static_cast<int>(std::lround((axis.high - axis.low) / axis.step));
  for (int i = 0; i <= ticks; ++i) f(axis.low + i * axis.step);
}

}  // namespace combwright::draw
