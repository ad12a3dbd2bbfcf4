// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/profile.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace combwright::steel {
namespace {

double shear_modulus_pa(double modulus_pa, double poisson_ratio) {
  return modulus_pa / (2.0 * (1.0 + poisson_ratio));
}

double cube(double x) {
  return x * x * x;
}

template <std::size_t m, std::size_t n>
std::array<double, m + n - 1> product(const std::array<double, m>& a,
                                      const std::array<double, n>& b) {
  std::array<double, m + n - 1> result{};
  for (std::size_t i = 0; i < m; ++i) {
    for (std::size_t j = 0; j < n; ++j) result[i + j] += a[i] * b[j];
  }
  return result;
}

template <std::size_t n>
std::array<double, n> scaled(double factor, std::array<double, n> polynomial) {
  for (double& coefficient : polynomial) coefficient *= factor;
  return polynomial;
}

// Steel and lead bend as one: each about its own middle, and both about the common neutral axis
// that lies between the two middles.
void add_lead(ProfileShape& shape, const Tooth& tooth, const std::array<double, 3>& steel_area_m2,
              const Lead& lead) {
  const double area = lead.width_m * lead.height_m;
  const std::array<double, 3> steel_stretch = scaled(tooth.steel.modulus_pa, steel_area_m2);
  const double lead_stretch = lead.modulus_pa * area;
  const double lead_mass = lead.mass_kg / lead.length_m;
  std::array<double, 5> apart{};
  std::copy_n(shape.bending.begin(), apart.size(), apart.begin());
  apart[0] += lead.modulus_pa * lead.width_m * cube(lead.height_m) / 12.0;
  shape.divisor = steel_stretch;
  shape.divisor[0] += lead_stretch;
  shape.bending = product(apart, shape.divisor);
  for (std::size_t i = 0; i < 3; ++i)
    shape.bending[i] += steel_stretch[i] * lead_stretch * lead.offset_m * lead.offset_m;
  shape.mass[0] += lead_mass;
  shape.rotary[0] +=
      lead_mass * (lead.height_m * lead.height_m / 12.0 + lead.offset_m * lead.offset_m);
  shape.shear[0] +=
      tooth.shear_coefficient * shear_modulus_pa(lead.modulus_pa, lead.poisson_ratio) * area;
}

}  // namespace

double inner_end_m(const Lead& lead) {
  return lead.center_m - 0.5 * lead.length_m;
}

double outer_end_m(const Lead& lead) {
  return lead.center_m + 0.5 * lead.length_m;
}

double inertia_kg_m2(const Lead& lead) {
  return lead.mass_kg * ((lead.length_m * lead.length_m + lead.height_m * lead.height_m) / 12.0 +
                         lead.offset_m * lead.offset_m);
}

Profile steel_profile(const Tooth& tooth, const Section& section, double share) {
  const double width = std::lerp(section.root_width_m, section.tip_width_m, share);
  const double thickness = std::lerp(section.root_thickness_m, section.tip_thickness_m, share);
  const double area = width * thickness;
  const double second_moment = width * cube(thickness) / 12.0;
  const Metal& steel = tooth.steel;
  Profile profile;
  profile.bending_n_m2 = steel.modulus_pa * second_moment;
  profile.mass_kg_m = steel.density_kg_m3 * area;
  if (tooth.theory == Theory::thick) {
    profile.rotary_kg_m = steel.density_kg_m3 * second_moment;
    profile.shear_n =
        tooth.shear_coefficient * shear_modulus_pa(steel.modulus_pa, steel.poisson_ratio) * area;
  }
  return profile;
}

ProfileLine::ProfileLine(const Tooth& tooth, double position_m, const Lead* lead)
    : tooth_(&tooth), section_(&tooth.sections.front()), lead_(lead) {
  while (section_ != &tooth.sections.back() && position_m > start_m_ + section_->length_m) {
    start_m_ += section_->length_m;
    ++section_;
  }
}

ProfileShape ProfileLine::along(double from_m, double to_m) const {
  const auto linear = [&](double root, double tip) {
    const double from = std::lerp(root, tip, (from_m - start_m_) / section_->length_m);
    const double to = std::lerp(root, tip, (to_m - start_m_) / section_->length_m);
    return std::array<double, 2>{0.5 * (from + to), 0.5 * (to - from)};
  };
  const std::array<double, 2> width = linear(section_->root_width_m, section_->tip_width_m);
  const std::array<double, 2> thickness =
      linear(section_->root_thickness_m, section_->tip_thickness_m);
  const std::array<double, 3> area = product(width, thickness);
  const std::array<double, 5> second_moment =
      scaled(1.0 / 12.0, product(area, product(thickness, thickness)));
  const Metal& steel = tooth_->steel;
  ProfileShape shape;
  const std::array<double, 5> bending = scaled(steel.modulus_pa, second_moment);
  std::copy(bending.begin(), bending.end(), shape.bending.begin());
  shape.mass = scaled(steel.density_kg_m3, area);
  if (tooth_->theory == Theory::thick) {
    shape.rotary = scaled(steel.density_kg_m3, second_moment);
    shape.shear = scaled(
        tooth_->shear_coefficient * shear_modulus_pa(steel.modulus_pa, steel.poisson_ratio), area);
  }
  if (lead_ != nullptr) add_lead(shape, *tooth_, area, *lead_);
  return shape;
}

bool ProfileLine::uniform() const {
  return section_->root_width_m == section_->tip_width_m &&
         section_->root_thickness_m == section_->tip_thickness_m;
}

RigidStretch ProfileLine::rigid(double from_m, double to_m) const {
  // Gauss's three points, exact to degree 5: more than the steel's second moment of mass needs.
  static constexpr std::array<double, 3> node{-0.774596669241483377, 0.0, 0.774596669241483377};
  static constexpr std::array<double, 3> weight{5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
  RigidStretch stretch;
  double moment = 0.0;
  double second = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double x = 0.5 * (from_m + to_m + node[i] * (to_m - from_m));
    const Profile steel = steel_profile(*tooth_, *section_, (x - start_m_) / section_->length_m);
    const double share = weight[i] * (to_m - from_m);
    stretch.mass_kg += share * steel.mass_kg_m;
    moment += share * steel.mass_kg_m * x;
    const double thickness = thickness_m(*tooth_, x);
    second += share * steel.mass_kg_m * (x * x + thickness * thickness / 12.0);
  }
  stretch.center_m = moment / stretch.mass_kg;
  stretch.inertia_kg_m2 = second - stretch.mass_kg * stretch.center_m * stretch.center_m;
  return stretch;
}

}  // namespace combwright::steel
