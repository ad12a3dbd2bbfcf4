// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "box/box.h"
#include "draw/box_section.h"
#include "draw/section_sheet.h"
#include "steel/comb.h"

// The figures of the box in section and what they share. Lengths are millimetres of the box,
// heights count from the under side of the disc.
namespace combwright::draw {

struct SectionScene {
  const box::Box& box;
  const std::vector<steel::CombDesign>& designs;  // or none
};

Figure along_figure(const SectionScene& scene);
Figure across_figure(const SectionScene& scene);
Figure action_figure(const SectionScene& scene);
Figure motor_figure(const SectionScene& scene);

inline std::string length_words(double length_m) {
  return to_text(length_m, Dimension::length);
}

// A plate and its teeth at the lowest note.
struct CombHeights {
  double struck = 0.0;  // the face that the points strike
  double plate_low = 0.0;
  double plate_high = 0.0;
  double teeth_low = 0.0;  // their under sides, weights left out; the plate's without a design
  double bedplate = 0.0;   // its top below the teeth
};
CombHeights comb_heights(const SectionScene& scene, std::size_t comb);

// The lowest of the bedplate's tops.
double lowest_bedplate(const SectionScene& scene);

// "comb.level", "comb 2.level".
std::string comb_key(std::size_t comb, std::string_view name);

// The lowest note's tooth in section, its end at `tip` from the axis of the star wheel, so much of
// it as is shown; with its plate if that is all.
void draw_comb(SectionSheet& sheet, const SectionScene& scene, std::size_t comb, double shown);

// Soundboard and cabinet around the middle, along the grain or across it, below a break in the
// drawing; and where the cabinet's floor then lies.
void draw_case(SectionSheet& sheet, const SectionScene& scene, bool along_grain);
double floor_of_case(const SectionScene& scene, double letters);

}  // namespace combwright::draw
