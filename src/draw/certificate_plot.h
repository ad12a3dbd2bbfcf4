// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/pdf_pages.h"

namespace combwright::draw {

// A mark for each tooth over the comb, in cents; nothing where there is none.
struct CentsPlot {
  std::string title;
  std::vector<std::optional<double>> cents;  // by track, from 1
  std::vector<std::string> notes;            // of the tracks, for the axis
  std::optional<double> tolerance;           // the band around 0 to be kept
};

struct PlotPlace {
  double x_mm;  // upper left corner with the words around it
  double y_mm;
  double width_mm;
  double height_mm;
};

// The least and the greatest of the scale, and the step of its ticks: 1, 2 or 5 times a power of
// ten, so that all values and the tolerance lie within.
struct CentsAxis {
  double low;
  double high;
  double step;
};
CentsAxis cents_axis(const CentsPlot& plot);

void draw_cents_plot(PdfPages& pages, const PlotPlace& place, const CentsPlot& plot);

}  // namespace combwright::draw
