// SPDX-License-Identifier: Apache-2.0
#include "steel/cut.h"

#include <algorithm>
#include <cmath>

namespace combwright::steel {
namespace {

// A clamped-clamped beam has its second mode at 7.853 (the square root of its frequency): up to
// this phase a piece has one mode at most, and little of its series' digits cancel.
constexpr double most_phase = 5.5;
// The same for waves of shear and of rotation alone: their first clamped mode is at pi.
constexpr double most_shear_phase = 2.5;
// Thickness may fall to six tenths along a piece, area to one half.
constexpr double least_stiffness_ratio = 0.216;
constexpr double least_mass_ratio = 0.5;

template <std::size_t n>
double value(const std::array<double, n>& shape, double t) {
  double sum = 0.0;
  for (std::size_t i = n; i-- > 0;) sum = sum * t + shape[i];
  return sum;
}

template <std::size_t n>
double least(const std::array<double, n>& shape) {
  return std::min({value(shape, -1.0), 1.0, value(shape, 1.0)});
}

template <std::size_t n>
double greatest(const std::array<double, n>& shape) {
  return std::max({value(shape, -1.0), 1.0, value(shape, 1.0)});
}

bool short_enough(const Piece& piece, double top) {
  const double length = 2.0 * piece.half;
  const double mass = piece.mass * greatest(piece.mass_shape);
  const double stiffness = piece.stiffness * least(piece.stiffness_shape);
  const double rotary = piece.rotary * greatest(piece.rotary_shape);
  const double shear = piece.shear_compliance / least(piece.shear_shape);
  return std::sqrt(top * std::sqrt(mass / stiffness)) * length <= most_phase &&
         top * length * std::sqrt(std::max(rotary / stiffness, mass * shear)) <= most_shear_phase;
}

bool little_tapered(const Piece& piece) {
  return least(piece.stiffness_shape) >=
             least_stiffness_ratio * greatest(piece.stiffness_shape) &&
         least(piece.mass_shape) >= least_mass_ratio * greatest(piece.mass_shape);
}

// The polynomial on one half of the stretch (side -1 or +1), by t = (side + u) / 2, and its value
// in the middle taken out.
template <std::size_t n>
double halve(std::array<double, n>& shape, double side) {
  std::array<double, n> half{};
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t j = n; j-- > 0;)
      half[j] = 0.5 * (side * half[j] + (j > 0 ? half[j - 1] : 0.0));
    half[0] += shape[i];
  }
  const double middle = half[0];
  for (std::size_t i = 0; i < n; ++i) shape[i] = half[i] / middle;
  return middle;
}

Piece half_of(Piece piece, double side) {
  if (side > 0.0) piece.start += piece.half;
  piece.half *= 0.5;
  if (!piece.uniform) {
    piece.stiffness *= halve(piece.stiffness_shape, side);
    piece.mass *= halve(piece.mass_shape, side);
    piece.rotary *= halve(piece.rotary_shape, side);
    piece.shear_compliance /= halve(piece.shear_shape, side);
  }
  return piece;
}

void add(std::vector<Element>& elements, const Piece& piece, double top) {
  if (short_enough(piece, top) && little_tapered(piece)) {
    elements.emplace_back(piece);
    return;
  }
  add(elements, half_of(piece, -1.0), top);
  add(elements, half_of(piece, 1.0), top);
}

}  // namespace

void cut(Beam& beam, double top) {
  std::vector<Element> elements;
  elements.reserve(2 * beam.elements.size() + 2);
  for (const Element& element : beam.elements) {
    if (const auto* piece = std::get_if<Piece>(&element)) {
      add(elements, *piece, top);
    } else {
      elements.push_back(element);
    }
  }
  beam.elements = std::move(elements);
}

}  // namespace combwright::steel
