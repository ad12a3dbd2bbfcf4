// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "box/box.h"
#include "draw/paint.h"
#include "draw/pdf_pages.h"

namespace combwright::draw {

// A picture of the disc on a page; its placement's scale is page millimetres for a real one.
struct DiscView {
  PdfPages& pages;
  const box::Box& box;
  Placement placement;
};

// What helps to read the picture and is not on the disc itself.

// The part of the turn that stays plain, tinted from the innermost track to the edge.
void tint_start_gap(const DiscView& view);

// A faint ring for every tenth track, and its number in the start gap.
void draw_track_rings(const DiscView& view);
void number_track_rings(const DiscView& view);

// Ticks around the edge with their angles; the labels stand this far outside the edge (below 0:
// inside). The label at 0 is left to the caller.
void mark_angles(const DiscView& view, int step_deg, double label_outside_mm);

// An arc with a head at its end around the middle of the picture; angles as on the disc,
// counter-clockwise from +X, radius on the page.
void draw_arrow(const DiscView& view, double radius_mm, double from_deg, double to_deg,
                const Colour& colour);

}  // namespace combwright::draw
