// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "draw/pdf_pages.h"
#include "draw/plot_axis.h"

namespace combwright::draw {

// By rising first number.
using PlotLine = std::vector<std::pair<double, double>>;

// Quantities over another, as lines through their points.
struct LinePlot {
  std::string title;
  std::string across;  // what the points' first numbers are, with unit
  std::vector<PlotLine> lines;
  bool dots = false;                              // a mark at each point
  std::optional<std::pair<double, double>> span;  // part of the range across that stands out
  std::optional<double> level;                    // a line to compare with
  double least_height = 0.0;                      // that the scale spans at least
};

void draw_line_plot(PdfPages& pages, const PlotPlace& place, const LinePlot& plot);

}  // namespace combwright::draw
