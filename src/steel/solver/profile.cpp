// SPDX-License-Identifier: Apache-2.0
#include "steel/solver/profile.h"

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

// Steel and lead bend as one: each about its own middle, and both about the common neutral axis
// that lies between the two middles.
Profile composite(const Tooth& tooth, const Profile& steel, double steel_area_m2,
                  const Lead& lead) {
  const double area = lead.width_m * lead.height_m;
  const double steel_stretch = tooth.steel.modulus_pa * steel_area_m2;
  const double lead_stretch = lead.modulus_pa * area;
  const double lead_mass = lead.mass_kg / lead.length_m;
  Profile both = steel;
  both.bending_n_m2 +=
      lead.modulus_pa * lead.width_m * cube(lead.height_m) / 12.0 +
      steel_stretch * lead_stretch / (steel_stretch + lead_stretch) * lead.offset_m * lead.offset_m;
  both.mass_kg_m += lead_mass;
  both.rotary_kg_m +=
      lead_mass * (lead.height_m * lead.height_m / 12.0 + lead.offset_m * lead.offset_m);
  both.shear_n +=
      tooth.shear_coefficient * shear_modulus_pa(lead.modulus_pa, lead.poisson_ratio) * area;
  return both;
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

Profile ProfileLine::at(double position_m) const {
  const double share = (position_m - start_m_) / section_->length_m;
  const Profile steel = steel_profile(*tooth_, *section_, share);
  if (lead_ == nullptr) return steel;
  return composite(*tooth_, steel, steel.mass_kg_m / tooth_->steel.density_kg_m3, *lead_);
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
