// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "draw/svg_sheet.h"

// What the figures of the box in section have in common.
namespace combwright::draw {

inline constexpr double mm_per_m = 1e3;

inline constexpr std::string_view sheet_fill = "#b9c4cc";  // of the disc
inline constexpr std::string_view brass_fill = "#e8d8a8";
inline constexpr std::string_view steel_fill = "#cfd6dc";
inline constexpr std::string_view wood_fill = "#e6cfae";
inline constexpr std::string_view lead_fill = "#8d99a3";
inline constexpr std::string_view no_fill = "none";

// What a figure shows, in millimetres of the box.
struct Extent {
  double left = 0.0;
  double right = 0.0;
  double low = 0.0;
  double high = 0.0;
};

// A drawing in millimetres of the box, z up, whose lines and letters are fit for its size.
class SectionSheet {
 public:
  SectionSheet(const Extent& extent, const std::string& title, std::string_view id);

  void begin(std::string_view section, std::string_view key = {}) { out_.begin_part(section, key); }
  void end() { out_.end_part(); }

  void rectangle(double left, double right, double low, double high, std::string_view fill);
  // One of many side by side: its outline leaves the gaps open.
  void narrow_rectangle(double left, double right, double low, double high, std::string_view fill);
  // Of what is not known to stand so.
  void dashed_rectangle(double left, double right, double low, double high);
  void outline(const std::vector<Place>& points, std::string_view fill);
  void circle(Place at, double radius, std::string_view fill);
  void dashed_circle(Place at, double radius);
  void line(Place from, Place to);
  void dashed_line(Place from, Place to);
  void axis(Place from, Place to);
  // Where the drawing is broken off because a length is not known.
  void broken(double left, double right, double z);
  void words(Place at, std::string_view words, std::string_view anchor = "start");

  // Dimension lines with the lengths in words; what they measure begins at `from_z` or `from_x`.
  void measure_across(double left, double right, double z, double from_z, const std::string& words);
  void measure_up(double low, double high, double x, double from_x, const std::string& words);
  // A bar of a round length.
  void scale_bar();

  double letters() const { return letters_; }  // their size in millimetres of the box
  // To the paper.
  Place at(Place place) const { return {place.x - extent_.left, extent_.high - place.y}; }

  std::string take() { return out_.take(); }

 private:
  Extent extent_;
  double letters_;
  double thin_;
  double thick_;
  std::string dashes_;
  std::string chain_;
  SvgSheet out_;
};

}  // namespace combwright::draw
