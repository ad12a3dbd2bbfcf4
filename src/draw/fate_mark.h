// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "arrange/arrangement.h"
#include "draw/pdf_pages.h"

namespace combwright::draw {

inline constexpr arrange::Fate all_fates[] = {arrange::Fate::kept, arrange::Fate::moved,
                                              arrange::Fate::octave, arrange::Fate::dropped};

// The mark of a fate in a box on the page, told apart by shape as well as by colour: kept solid,
// moved solid with a wedge before it, octave hollow with a slash, dropped a cross.
void mark_fate(PdfPages& pages, arrange::Fate fate, double x_mm, double y_mm, double width_mm,
               double height_mm);

// The colour that goes with it.
Colour colour_of(arrange::Fate fate);

}  // namespace combwright::draw
