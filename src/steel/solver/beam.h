// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <variant>
#include <vector>

#include "steel/tooth.h"

// The tooth as the solver sees it: a chain of elements from root to tip, without dimension.
// Lengths are in tooth lengths; bending stiffness, mass for each length and all that follows from
// them in those of the steel at the root.
namespace combwright::steel {

// How far the polynomials of a piece go: most teeth have one width, and most pieces no lead.
enum class PieceKind { uniform, one_width, one_width_with_lead, any };

// A bending stretch. Its properties are polynomials in t, which runs from -1 at the end nearer the
// root to +1, divided by their values in the middle.
struct Piece {
  double start = 0.0;
  double half = 0.0;  // half of its length
  double stiffness = 1.0;
  double mass = 1.0;
  double rotary = 0.0;                  // rotary inertia for each length
  double shear_compliance = 0.0;        // 1 / (k G A)
  PieceKind kind = PieceKind::uniform;  // of its polynomials; uniform: all are 1
  // The stiffness is the first over the second: that of steel alone is a polynomial, that of steel
  // and lead about their common neutral axis is not.
  std::array<double, 7> stiffness_shape{1.0};
  std::array<double, 3> stiffness_divisor{1.0};
  std::array<double, 3> mass_shape{1.0};
  std::array<double, 5> rotary_shape{1.0};
  std::array<double, 3> shear_shape{1.0};
};

// A stretch that does not bend and weighs nothing.
struct Link {
  double length = 0.0;
};

// A rigid mass; its centre lies `reach` further out than the place that it hangs on.
struct Body {
  double mass = 0.0;
  double inertia = 0.0;  // about its own centre, and of its distance below the steel
  double reach = 0.0;
};

using Element = std::variant<Piece, Link, Body>;

struct Beam {
  std::vector<Element> elements;
  double root_turning = 0.0;   // radians for a moment of 1
  double root_shifting = 0.0;  // deflection for a force of 1
  // The units.
  double length_m = 0.0;
  double stiffness_n_m2 = 0.0;
  double mass_kg_m = 0.0;
};

// Angular frequency 1 of the chain, in rad/s.
double unit_rad_s(const Beam& beam);

// Integral of (mass / stiffness)^(1/4) along the bending stretches: times the square root of an
// angular frequency, the phase of its bending waves from end to end.
double phase(const Beam& beam);

// The chain for a tooth that has no problem().
Beam beam(const Tooth& tooth);

}  // namespace combwright::steel
