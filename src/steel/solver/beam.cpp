// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/beam.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "steel/solver/profile.h"

namespace combwright::steel {
namespace {

// Coefficients of the polynomial through values at t = -1, -1/2, 0, 1/2, 1, exact for what steel
// sections give: bending stiffness is a polynomial of degree 4 in the position.
std::array<double, 5> quartic(const std::array<double, 5>& v) {
  const double even1 = 0.5 * (v[3] + v[1]) - v[2];
  const double even2 = 0.5 * (v[4] + v[0]) - v[2];
  const double odd1 = 0.5 * (v[3] - v[1]);
  const double odd2 = 0.5 * (v[4] - v[0]);
  return {v[2], (8.0 * odd1 - odd2) / 3.0, (16.0 * even1 - even2) / 3.0,
          (4.0 * odd2 - 8.0 * odd1) / 3.0, (4.0 * even2 - 16.0 * even1) / 3.0};
}

std::array<double, 3> parabola(const std::array<double, 5>& v) {
  return {v[2], 0.5 * (v[4] - v[0]), 0.5 * (v[4] + v[0]) - v[2]};
}

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

// One stretch between two places where anything changes abruptly.
Piece piece(const ProfileLine& line, double from_m, double to_m, const Units& units) {
  std::array<double, 5> stiffness{};
  std::array<double, 5> mass{};
  std::array<double, 5> rotary{};
  std::array<double, 5> shear{};
  for (std::size_t i = 0; i < 5; ++i) {
    const Profile profile = line.at(std::lerp(from_m, to_m, 0.25 * static_cast<double>(i)));
    stiffness[i] = profile.bending_n_m2;
    mass[i] = profile.mass_kg_m;
    rotary[i] = profile.rotary_kg_m;
    shear[i] = profile.shear_n;
  }
  Piece piece;
  piece.start = from_m / units.length_m;
  piece.half = 0.5 * (to_m - from_m) / units.length_m;
  piece.stiffness = stiffness[2] / units.stiffness_n_m2;
  piece.mass = mass[2] / units.mass_kg_m;
  piece.rotary = rotary[2] / units.inertia();
  piece.stiffness_shape = normalised(quartic(stiffness));
  piece.mass_shape = normalised(parabola(mass));
  if (rotary[2] > 0.0) piece.rotary_shape = normalised(quartic(rotary));
  if (std::isfinite(shear[2])) {
    piece.shear_compliance = 1.0 / (shear[2] * units.compliance());
    piece.shear_shape = normalised(parabola(shear));
  }
  piece.uniform = line.uniform();
  return piece;
}

// Steel alone gives polynomials; with a lead under it a taper does not. Where the thickness changes
// by less than 5 %, the polynomial through five points is as good.
int block_parts(const Tooth& tooth, double from_m, double to_m) {
  const double taper = std::abs(std::log(thickness_m(tooth, to_m) / thickness_m(tooth, from_m))) +
                       std::abs(std::log(width_m(tooth, to_m) / width_m(tooth, from_m)));
  return std::max(1, static_cast<int>(std::ceil(taper / 0.05)));
}

void add_pieces(std::vector<Element>& elements, const ProfileLine& line, double from_m, double to_m,
                int count, const Units& units) {
  const auto place = [&](int i) { return std::lerp(from_m, to_m, static_cast<double>(i) / count); };
  for (int i = 0; i < count; ++i) elements.emplace_back(piece(line, place(i), place(i + 1), units));
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
      add_pieces(beam.elements, ProfileLine(tooth, middle, block), places[i], places[i + 1],
                 block == nullptr ? 1 : block_parts(tooth, places[i], places[i + 1]), units);
    }
  }
  return beam;
}

}  // namespace combwright::steel
