// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "draw/pdf_pages.h"

namespace combwright::draw {

inline constexpr double check_bar_mm = 100.0;

// Bars with a tick every 10 mm to hold a rule against, for a printer may stretch one way only. The
// level one runs from x to the right with its words below it, the upright one from y upwards with
// its words at the right.
void draw_level_bar(PdfPages& pages, double x_mm, double y_mm);
void draw_upright_bar(PdfPages& pages, double x_mm, double y_mm);

// A text that reads upwards: x is its base line, y its lower end or middle.
void upright_text(PdfPages& pages, double x_mm, double y_mm, std::string_view text,
                  const TextStyle& style);

}  // namespace combwright::draw
