// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "box/box.h"
#include "steel/comb.h"

// What the saw and the cutter of leads need of designed combs.
namespace combwright::steel {

// One cut of the saw, from the tips to the root line.
struct SawCut {
  int track = 0;             // that it lies outside of; 0 for the cut inside of track 1
  double radius_m = 0.0;     // of its middle, on the box
  double from_edge_m = 0.0;  // the same from the plate's inner edge
  double length_m = 0.0;     // halfway between those of the teeth on its two sides
};

std::vector<SawCut> saw_cuts(const box::Box& box, const box::Comb& comb, const CombDesign& design);

// The plate that a comb is cut from. Its front edge is the line of the tips, its sides are the
// outer walls of the outermost cuts.
struct Plate {
  double inner_radius_m = 0.0;
  double width_m = 0.0;
  double depth_m = 0.0;                // from the tips to the back edge
  std::vector<double> screw_radius_m;  // evenly spaced
  double screws_from_tips_m = 0.0;
};

Plate plate(const box::Box& box, const box::Comb& comb, const CombDesign& design);

// Which tooth: the place of its comb in the box, and its track.
struct ToothPlace {
  std::size_t comb = 0;
  int track = 0;
};

// Leads to be cut to one length from one bar, as they are first fitted.
struct LeadCut {
  double height_m = 0.0;
  double width_m = 0.0;
  double length_m = 0.0;
  double mass_kg = 0.0;           // of each
  std::vector<ToothPlace> teeth;  // that they are for, comb by comb in order of track
};

// Of all combs together, lowest bar first, shortest first.
std::vector<LeadCut> lead_cuts(const std::vector<CombDesign>& designs);

}  // namespace combwright::steel
