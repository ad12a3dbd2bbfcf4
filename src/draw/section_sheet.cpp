// SPDX-License-Identifier: Apache-2.0
#include "draw/section_sheet.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace combwright::draw {
namespace {

constexpr double letters_per_width = 1.0 / 52.0;

// 1, 2 or 5 times a power of ten, at most `most`.
double round_length(double most) {
  const double ten = std::pow(10.0, std::floor(std::log10(most)));
  for (const double step : {5.0, 2.0})
    if (step * ten <= most) return step * ten;
  return ten;
}

}  // namespace

SectionSheet::SectionSheet(const Extent& extent, const std::string& title, std::string_view id)
    : extent_(extent),
      letters_((extent.right - extent.left) * letters_per_width),
      thin_(0.07 * letters_),
      thick_(0.13 * letters_),
      dashes_(fmt::format("{:.3f} {:.3f}", 0.5 * letters_, 0.3 * letters_)),
      chain_(fmt::format("{0:.3f} {1:.3f} {1:.3f} {1:.3f}", letters_, 0.25 * letters_)),
      out_(extent.right - extent.left, extent.high - extent.low, title, id) {}

void SectionSheet::rectangle(double left, double right, double low, double high,
                             std::string_view fill) {
  outline({{left, low}, {right, low}, {right, high}, {left, high}}, fill);
}

void SectionSheet::narrow_rectangle(double left, double right, double low, double high,
                                    std::string_view fill) {
  constexpr double share = 0.15;
  out_.shape({at({left, low}), at({right, low}), at({right, high}), at({left, high})}, fill,
             svg_ink, std::min(thin_, share * (right - left)));
}

void SectionSheet::dashed_rectangle(double left, double right, double low, double high) {
  out_.shape({at({left, low}), at({right, low}), at({right, high}), at({left, high})}, no_fill,
             svg_faint, thin_, true, dashes_);
}

void SectionSheet::outline(const std::vector<Place>& points, std::string_view fill) {
  std::vector<Place> on_paper;
  on_paper.reserve(points.size());
  for (const Place& point : points) on_paper.push_back(at(point));
  out_.shape(on_paper, fill, svg_ink, thin_);
}

void SectionSheet::circle(Place centre, double radius, std::string_view fill) {
  out_.circle(at(centre), radius, fill, svg_ink, thin_);
}

void SectionSheet::dashed_circle(Place centre, double radius) {
  out_.circle(at(centre), radius, no_fill, svg_faint, thin_, dashes_);
}

void SectionSheet::line(Place from, Place to) {
  out_.line(at(from), at(to), svg_ink, thick_);
}

void SectionSheet::dashed_line(Place from, Place to) {
  out_.line(at(from), at(to), svg_faint, thin_, dashes_);
}

void SectionSheet::axis(Place from, Place to) {
  out_.line(at(from), at(to), svg_faint, thin_, chain_);
}

void SectionSheet::broken(double left, double right, double z) {
  const double step = 1.5 * letters_;
  std::vector<Place> zigzag;
  bool up = false;
  for (double x = left; x < right; x += step, up = !up)
    zigzag.push_back(at({x, z + (up ? 0.2 : -0.2) * letters_}));
  zigzag.push_back(at({right, z}));
  out_.shape(zigzag, no_fill, svg_faint, thin_, false);
}

void SectionSheet::words(Place where, std::string_view words, std::string_view anchor) {
  out_.text(at(where), words, anchor, svg_ink, letters_);
}

void SectionSheet::measure_across(double left, double right, double z, double from_z,
                                  const std::string& words) {
  const double past = (z > from_z ? 0.3 : -0.3) * letters_;
  for (const double x : {left, right}) {
    out_.line(at({x, from_z}), at({x, z + past}), svg_faint, thin_);
    out_.line(at({x - 0.25 * letters_, z - 0.25 * letters_}),
              at({x + 0.25 * letters_, z + 0.25 * letters_}), svg_ink, thick_);
  }
  out_.line(at({left, z}), at({right, z}), svg_ink, thin_);
  // Beside a length that is too short for its words.
  const double width = 0.6 * letters_ * static_cast<double>(words.size());
  if (width < right - left || right + width > extent_.right)
    out_.text(at({0.5 * (left + right), z + 0.3 * letters_}), words, "middle", svg_ink, letters_);
  else
    out_.text(at({right + 0.5 * letters_, z + 0.3 * letters_}), words, "start", svg_ink, letters_);
}

void SectionSheet::measure_up(double low, double high, double x, double from_x,
                              const std::string& words) {
  const double past = (x > from_x ? 0.3 : -0.3) * letters_;
  for (const double z : {low, high}) {
    out_.line(at({from_x, z}), at({x + past, z}), svg_faint, thin_);
    out_.line(at({x - 0.25 * letters_, z - 0.25 * letters_}),
              at({x + 0.25 * letters_, z + 0.25 * letters_}), svg_ink, thick_);
  }
  out_.line(at({x, low}), at({x, high}), svg_ink, thin_);
  const bool right = x > from_x;
  out_.text(at({x + (right ? 0.5 : -0.5) * letters_, 0.5 * (low + high) - 0.35 * letters_}), words,
            right ? "start" : "end", svg_ink, letters_);
}

void SectionSheet::scale_bar() {
  const double length = round_length(0.2 * (extent_.right - extent_.left));
  const double left = extent_.left + letters_;
  const double z = extent_.low + 0.8 * letters_;
  out_.blank(at({extent_.left, z + 0.8 * letters_}), length + 7.0 * letters_, 2.0 * letters_);
  constexpr int pieces = 5;
  for (int i = 0; i < pieces; ++i) {
    const double from = left + length * i / pieces;
    rectangle(from, from + length / pieces, z - 0.2 * letters_, z + 0.2 * letters_,
              i % 2 == 0 ? svg_ink : "white");
  }
  words({left + length + 0.5 * letters_, z - 0.35 * letters_}, fmt::format("{:g} mm", length));
}

}  // namespace combwright::draw
