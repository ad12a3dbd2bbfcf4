// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/pdf_pages.h"
#include "draw/plot_axis.h"

namespace combwright::draw {

// A mark for each tooth over the comb, in cents; nothing where there is none.
struct CentsPlot {
  std::string title;
  std::vector<std::optional<double>> cents;  // by track, from 1
  std::vector<std::string> notes;            // of the tracks, for the axis
  std::optional<double> tolerance;           // the band around 0 to be kept
};

// A scale on which all values and the tolerance lie.
PlotAxis cents_axis(const CentsPlot& plot);

void draw_cents_plot(PdfPages& pages, const PlotPlace& place, const CentsPlot& plot);

}  // namespace combwright::draw
