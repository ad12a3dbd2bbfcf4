// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/beam.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "steel/solver/profile.h"

namespace combwright::steel {
namespace {

template <std::size_t n>
std::array<double, n> normalised(std::array<double, n> shape) {
  const double middle = shape[0];
  for (double& coefficient : shape) coefficient /= middle;
  return shape;
}

struct Units {
  double length_m;
  double stiffness_n_m2;
  double mass_kg_m;

  double inertia() const { return mass_kg_m * length_m * length_m; }          // for each length
  double compliance() const { return length_m * length_m / stiffness_n_m2; }  // of shear
};

PieceKind kind_of(const Piece& piece, bool uniform) {
  if (uniform) return PieceKind::uniform;
  if (piece.mass_shape[2] != 0.0) return PieceKind::any;
  return piece.stiffness_divisor[1] != 0.0 ? PieceKind::one_width_with_lead : PieceKind::one_width;
}

// One stretch between two places where anything changes abruptly.
Piece piece(const ProfileLine& line, double from_m, double to_m, const Units& units) {
  const ProfileShape shape = line.along(from_m, to_m);
  Piece piece;
  piece.start = from_m / units.length_m;
  piece.half = 0.5 * (to_m - from_m) / units.length_m;
  piece.stiffness = shape.bending[0] / shape.divisor[0] / units.stiffness_n_m2;
  piece.mass = shape.mass[0] / units.mass_kg_m;
  piece.rotary = shape.rotary[0] / units.inertia();
  piece.stiffness_shape = normalised(shape.bending);
  piece.stiffness_divisor = normalised(shape.divisor);
  piece.mass_shape = normalised(shape.mass);
  if (shape.rotary[0] > 0.0) piece.rotary_shape = normalised(shape.rotary);
  if (std::isfinite(shape.shear[0])) {
    piece.shear_compliance = 1.0 / (shape.shear[0] * units.compliance());
    piece.shear_shape = normalised(shape.shear);
  }
  piece.kind = kind_of(piece, line.uniform());
  return piece;
}

// A stretch that a rigid lead keeps straight: its steel as a body on a link.
void add_rigid(std::vector<Element>& elements, const ProfileLine& line, double from_m, double to_m,
               const Units& units) {
  const RigidStretch stretch = line.rigid(from_m, to_m);
  elements.emplace_back(Body{.mass = stretch.mass_kg / (units.mass_kg_m * units.length_m),
                             .inertia = stretch.inertia_kg_m2 / (units.inertia() * units.length_m),
                             .reach = (stretch.center_m - from_m) / units.length_m});
  elements.emplace_back(Link{(to_m - from_m) / units.length_m});
}

Body body(const Lead& lead, double hung_at_m, const Units& units) {
  return {.mass = lead.mass_kg / (units.mass_kg_m * units.length_m),
          .inertia = inertia_kg_m2(lead) / (units.inertia() * units.length_m),
          .reach = (lead.center_m - hung_at_m) / units.length_m};
}

bool is_rigid_block(const Lead& lead) {
  return lead.length_m > 0.0 && std::isinf(lead.modulus_pa);
}
bool is_section(const Lead& lead) {
  return lead.length_m > 0.0 && lead.modulus_pa > 0.0 && !is_rigid_block(lead);
}

// Where a lead that is no part of a composite section hangs on.
double hung_at_m(const Lead& lead) {
  return is_rigid_block(lead) ? inner_end_m(lead) : lead.center_m;
}

// Places where the tooth changes abruptly, from the root's 0 to the tip.
std::vector<double> changes(const Tooth& tooth) {
  std::vector<double> places{0.0};
  for (const Section& section : tooth.sections) places.push_back(places.back() + section.length_m);
  const double tip = places.back();
  for (const Lead& lead : tooth.leads) {
    if (is_rigid_block(lead) || is_section(lead)) {
      places.push_back(std::clamp(inner_end_m(lead), 0.0, tip));
      places.push_back(std::clamp(outer_end_m(lead), 0.0, tip));
    } else {
      places.push_back(lead.center_m);
    }
  }
  std::sort(places.begin(), places.end());
  // Closer than this is the same place: rounding of lengths that were meant to be equal.
  const double same = 1e-12 * tip;
  places.erase(std::unique(places.begin(), places.end(),
                           [same](double a, double b) { return b - a <= same; }),
               places.end());
  return places;
}

const Lead* block_over(const Tooth& tooth, double position_m) {
  for (const Lead& lead : tooth.leads) {
    if ((is_rigid_block(lead) || is_section(lead)) && inner_end_m(lead) < position_m &&
        position_m < outer_end_m(lead))
      return &lead;
  }
  return nullptr;
}

std::size_t nearest(const std::vector<double>& places, double position_m) {
  const auto place =
      std::min_element(places.begin(), places.end(), [position_m](double a, double b) {
        return std::abs(a - position_m) < std::abs(b - position_m);
      });
  return static_cast<std::size_t>(place - places.begin());
}

// The bodies that hang on one of the places.
void add_bodies(std::vector<Element>& elements, const Tooth& tooth,
                const std::vector<double>& places, std::size_t place, const Units& units) {
  for (const Lead& lead : tooth.leads) {
    if (is_section(lead)) continue;
    const double at = hung_at_m(lead);
    if (nearest(places, at) == place) elements.emplace_back(body(lead, at, units));
  }
}

}  // namespace

double unit_rad_s(const Beam& beam) {
  return std::sqrt(beam.stiffness_n_m2 / beam.mass_kg_m) / (beam.length_m * beam.length_m);
}

double phase(const Beam& beam) {
  double sum = 0.0;
  for (const Element& element : beam.elements) {
    if (const auto* piece = std::get_if<Piece>(&element))
      sum += 2.0 * piece->half * std::sqrt(std::sqrt(piece->mass / piece->stiffness));
  }
  return sum;
}

Beam beam(const Tooth& tooth) {
  assert(problem(tooth).empty());
  const Profile at_root = steel_profile(tooth, tooth.sections.front(), 0.0);
  const Units units{length_m(tooth), at_root.bending_n_m2, at_root.mass_kg_m};
  Beam beam;
  beam.length_m = units.length_m;
  beam.stiffness_n_m2 = units.stiffness_n_m2;
  beam.mass_kg_m = units.mass_kg_m;
  beam.root_turning = units.stiffness_n_m2 / (units.length_m * tooth.root.turning_n_m);
  beam.root_shifting =
      units.stiffness_n_m2 / (std::pow(units.length_m, 3.0) * tooth.root.shifting_n_m);

  const std::vector<double> places = changes(tooth);
  for (std::size_t i = 0; i < places.size(); ++i) {
    add_bodies(beam.elements, tooth, places, i, units);
    if (i + 1 == places.size()) break;
    const double middle = 0.5 * (places[i] + places[i + 1]);
    const Lead* block = block_over(tooth, middle);
    if (block != nullptr && is_rigid_block(*block)) {
      add_rigid(beam.elements, ProfileLine(tooth, middle, nullptr), places[i], places[i + 1],
                units);
    } else {
      beam.elements.emplace_back(
          piece(ProfileLine(tooth, middle, block), places[i], places[i + 1], units));
    }
  }
  return beam;
}

}  // namespace combwright::steel
