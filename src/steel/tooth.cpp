// SPDX-License-Identifier: Apache-2.0
#include "steel/tooth.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

namespace combwright::steel {
namespace {

// The section at a position, and how far along it the position lies, 0..1.
struct Spot {
  const Section* section;
  double share;
};

Spot spot(const Tooth& tooth, double position_m) {
  double start = 0.0;
  for (const Section& section : tooth.sections) {
    const double end = start + section.length_m;
    if (position_m < end || &section == &tooth.sections.back())
      return {&section, std::clamp((position_m - start) / section.length_m, 0.0, 1.0)};
    start = end;
  }
  assert(false);
  return {nullptr, 0.0};
}

}  // namespace

Tooth plain_tooth(double length_m, double width_m, double root_thickness_m, double tip_thickness_m,
                  const Metal& steel) {
  Tooth tooth;
  tooth.sections = {{.length_m = length_m,
                     .root_width_m = width_m,
                     .tip_width_m = width_m,
                     .root_thickness_m = root_thickness_m,
                     .tip_thickness_m = tip_thickness_m}};
  tooth.steel = steel;
  return tooth;
}

Lead lead_block(const Tooth& tooth, double mass_kg, double center_m, double length_m,
                const Metal& metal) {
  Lead lead{.mass_kg = mass_kg, .center_m = center_m};
  if (length_m == 0.0) return lead;
  lead.length_m = length_m;
  lead.width_m = width_m(tooth, center_m);
  lead.height_m = mass_kg / (metal.density_kg_m3 * length_m * lead.width_m);
  lead.offset_m = 0.5 * (thickness_m(tooth, center_m) + lead.height_m);
  lead.modulus_pa = metal.modulus_pa;
  lead.poisson_ratio = metal.poisson_ratio;
  return lead;
}

Root yielding_root(double modulus_pa, double width_m, double thickness_m, double yield) {
  const double yield_m = yield * thickness_m;
  if (!(yield_m > 0.0)) return {};
  return {.turning_n_m = modulus_pa * width_m * std::pow(thickness_m, 3) / (12.0 * yield_m)};
}

double length_m(const Tooth& tooth) {
  return std::accumulate(tooth.sections.begin(), tooth.sections.end(), 0.0,
                         [](double sum, const Section& s) { return sum + s.length_m; });
}

double width_m(const Tooth& tooth, double position_m) {
  const auto [section, share] = spot(tooth, position_m);
  return std::lerp(section->root_width_m, section->tip_width_m, share);
}

double thickness_m(const Tooth& tooth, double position_m) {
  const auto [section, share] = spot(tooth, position_m);
  return std::lerp(section->root_thickness_m, section->tip_thickness_m, share);
}

double steel_mass_kg(const Tooth& tooth) {
  double volume = 0.0;
  for (const Section& s : tooth.sections) {
    volume += s.length_m / 6.0 *
              (s.root_width_m * s.root_thickness_m + s.tip_width_m * s.tip_thickness_m +
               (s.root_width_m + s.tip_width_m) * (s.root_thickness_m + s.tip_thickness_m));
  }
  return tooth.steel.density_kg_m3 * volume;
}

}  // namespace combwright::steel
