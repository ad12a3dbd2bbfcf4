// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/cut.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace combwright::steel {
namespace {

// Pieces this long, by the phase of their bending waves, cost least.
constexpr double good_phase = 6.3;
// Thickness may fall to one half along a piece, and so may its area: the series still shrink by a
// third from term to term.
constexpr double least_stiffness_ratio = 0.125;
constexpr double least_mass_ratio = 0.5;
// No stiffness may be zero, for real places or others, within this of the middle, in half lengths:
// the series would not end.
constexpr double clear = 1.5;

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

double stiffness_at(const Piece& piece, double t) {
  return value(piece.stiffness_shape, t) / value(piece.stiffness_divisor, t);
}

double least_stiffness(const Piece& piece) {
  return std::min({stiffness_at(piece, -1.0), 1.0, stiffness_at(piece, 1.0)});
}

double greatest_stiffness(const Piece& piece) {
  return std::max({stiffness_at(piece, -1.0), 1.0, stiffness_at(piece, 1.0)});
}

template <std::size_t n>
double greatest(const std::array<double, n>& shape) {
  return std::max({value(shape, -1.0), 1.0, value(shape, 1.0)});
}

// True if the piece, clamped at both ends, has at most one mode below `top`. Bending alone has its
// second one at a phase of 7.853, shear alone its first one at pi, rotary inertia alone at 2 pi (as
// the clamped strut buckles); of all together the squares of the periods at most add up (Weyl).
bool has_one_mode(const Piece& piece, double top) {
  const double length = 2.0 * piece.half;
  const double mass = piece.mass * greatest(piece.mass_shape);
  const double stiffness = piece.stiffness * least_stiffness(piece);
  const double rotary = piece.rotary * greatest(piece.rotary_shape);
  const double shear = piece.shear_compliance / least(piece.shear_shape);
  const double squared = top * top * length * length;
  constexpr double pi = std::numbers::pi;
  const double bending_part = squared * length * length * mass / stiffness / std::pow(7.853, 4.0);
  const double shear_part = squared * mass * shear / (pi * pi);
  const double rotary_part = squared * rotary / stiffness / (4.0 * pi * pi);
  return bending_part + shear_part + rotary_part <= 0.75;
}

// True if no zero of the polynomial, real or not, lies in the circle of this radius (Schur and
// Cohn's test: Marden, Geometry of Polynomials, from memory).
template <std::size_t n>
bool has_no_zero_within(double radius, std::array<double, n> polynomial) {
  double power = 1.0;
  for (double& coefficient : polynomial) {
    coefficient *= power;
    power *= radius;
  }
  std::size_t size = n;
  while (size > 1 && polynomial[size - 1] == 0.0) --size;
  for (; size > 1; --size) {
    const double first = polynomial[0];
    const double last = polynomial[size - 1];
    if (!(std::abs(first) > std::abs(last))) return false;
    const std::array<double, n> before = polynomial;
    for (std::size_t i = 0; i + 1 < size; ++i)
      polynomial[i] = before[i] - last / first * before[size - 1 - i];
  }
  return true;
}

// Steel of one width alone has its zeros where its thickness would have its one.
bool is_clear(const Piece& piece) {
  if (piece.kind == PieceKind::any || piece.kind == PieceKind::one_width_with_lead)
    return has_no_zero_within(clear, piece.stiffness_shape);
  return value(piece.stiffness_shape, -clear) > 0.0 && value(piece.stiffness_shape, clear) > 0.0;
}

bool little_tapered(const Piece& piece) {
  return least_stiffness(piece) >= least_stiffness_ratio * greatest_stiffness(piece) &&
         least(piece.mass_shape) >= least_mass_ratio * greatest(piece.mass_shape) &&
         is_clear(piece);
}

// The polynomial on the part of the stretch about `middle` that is `scale` as long, with its value
// there taken out.
template <std::size_t n>
double narrow(std::array<double, n>& shape, double middle, double scale) {
  std::array<double, n> part{};
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t j = n; j-- > 0;)
      part[j] = middle * part[j] + (j > 0 ? scale * part[j - 1] : 0.0);
    part[0] += shape[i];
  }
  const double value = part[0];
  for (std::size_t i = 0; i < n; ++i) shape[i] = part[i] / value;
  return value;
}

// Part `index` of `count` equal ones.
Piece part_of(Piece piece, int index, int count) {
  const double scale = 1.0 / count;
  const double middle = scale * (2 * index + 1) - 1.0;
  piece.start += 2.0 * piece.half * scale * index;
  piece.half *= scale;
  if (piece.kind != PieceKind::uniform) {
    piece.stiffness *= narrow(piece.stiffness_shape, middle, scale);
    piece.stiffness /= narrow(piece.stiffness_divisor, middle, scale);
    piece.mass *= narrow(piece.mass_shape, middle, scale);
    piece.rotary *= narrow(piece.rotary_shape, middle, scale);
    piece.shear_compliance /= narrow(piece.shear_shape, middle, scale);
  }
  return piece;
}

void add(std::vector<Element>& elements, const Piece& piece, double top, int parts) {
  if (parts == 1 && has_one_mode(piece, top) && little_tapered(piece)) {
    elements.emplace_back(piece);
    return;
  }
  const int count = std::max(2, parts);
  for (int i = 0; i < count; ++i) add(elements, part_of(piece, i, count), top, 1);
}

int good_parts(const Piece& piece, double top) {
  const double phase = 2.0 * piece.half * std::sqrt(top * std::sqrt(piece.mass / piece.stiffness));
  return std::max(1, static_cast<int>(std::ceil(phase / good_phase)));
}

}  // namespace

void cut(Beam& beam, double top) {
  std::vector<Element> elements;
  elements.reserve(2 * beam.elements.size() + 2);
  for (const Element& element : beam.elements) {
    if (const auto* piece = std::get_if<Piece>(&element)) {
      add(elements, *piece, top, good_parts(*piece, top));
    } else {
      elements.push_back(element);
    }
  }
  beam.elements = std::move(elements);
}

}  // namespace combwright::steel
