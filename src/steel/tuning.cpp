// SPDX-License-Identifier: Apache-2.0
#include "steel/tuning.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/solver/profile.h"

namespace combwright::steel {
namespace {

// Shares of mass and thickness by which slopes are taken: far above the rounding of a pitch, and so
// small that their fourth power is nothing.
constexpr double step = 1e-3;

std::size_t outermost(const Tooth& tooth) {
  const auto lead = std::max_element(
      tooth.leads.begin(), tooth.leads.end(),
      [](const Lead& a, const Lead& b) { return outer_end_m(a) < outer_end_m(b); });
  return static_cast<std::size_t>(lead - tooth.leads.begin());
}

// Slope at 0 of a change that is known at steps of h and h / 2 on both sides (Richardson).
template <class Change>
double slope(const Change& change, double h) {
  const auto central = [&](double d) { return (change(d) - change(-d)) / (2.0 * d); };
  return (4.0 * central(0.5 * h) - central(h)) / 3.0;
}

double clip_cents_per_kg(const Tooth& tooth) {
  const double first = first_mode_hz(tooth);
  if (tooth.leads.empty()) {
    // A point mass of m at the tip changes ln f by -m / (2 modal mass).
    return 0.5 * music::cents(std::numbers::e) / modes(tooth, 1).front().modal_mass_kg;
  }
  const std::size_t lead = outermost(tooth);
  const auto change = [&](double mass_kg) {
    return music::cents(first_mode_hz(clipped(tooth, lead, mass_kg)) / first);
  };
  // Towards clipping only, as a lead at the tip cannot grow. A lead that is light beside its tooth
  // hardly changes the pitch: more of it goes.
  const double mass = tooth.leads[lead].mass_kg;
  const double h = std::min(0.25 * mass, step * (mass + steel_mass_kg(tooth)));
  return (18.0 * change(h) - 9.0 * change(2.0 * h) + 2.0 * change(3.0 * h)) / (6.0 * h);
}

double file_cents_per_m(const Tooth& tooth, double from_m, double to_m) {
  const double first = first_mode_hz(tooth);
  const double h = step * std::min(thickness_m(tooth, from_m), thickness_m(tooth, to_m));
  return slope(
      [&](double depth_m) {
        return music::cents(first_mode_hz(filed(tooth, from_m, to_m, depth_m)) / first);
      },
      h);
}

// The part of a section between two shares of its length.
Section part(const Section& section, double from, double to) {
  return {.length_m = section.length_m * (to - from),
          .root_width_m = std::lerp(section.root_width_m, section.tip_width_m, from),
          .tip_width_m = std::lerp(section.root_width_m, section.tip_width_m, to),
          .root_thickness_m = std::lerp(section.root_thickness_m, section.tip_thickness_m, from),
          .tip_thickness_m = std::lerp(section.root_thickness_m, section.tip_thickness_m, to)};
}

}  // namespace

Tooth clipped(const Tooth& tooth, std::size_t lead, double mass_kg) {
  assert(lead < tooth.leads.size() && mass_kg < tooth.leads[lead].mass_kg);
  Tooth result = tooth;
  Lead& left = result.leads[lead];
  const double inner_end = inner_end_m(left);
  const double share = 1.0 - mass_kg / left.mass_kg;
  left.mass_kg *= share;
  left.length_m *= share;
  left.center_m = inner_end + 0.5 * left.length_m;
  return result;
}

Tooth filed(const Tooth& tooth, double from_m, double to_m, double depth_m) {
  assert(from_m < to_m);
  Tooth result = tooth;
  result.sections.clear();
  const double least_part = 1e-9 * length_m(tooth);
  double start = 0.0;
  for (const Section& section : tooth.sections) {
    const auto share = [&](double position_m) {
      return std::clamp((position_m - start) / section.length_m, 0.0, 1.0);
    };
    double from = 0.0;
    for (const double to : {share(from_m), share(to_m), 1.0}) {
      if ((to - from) * section.length_m <= least_part) continue;
      Section cut = part(section, from, to);
      const double middle = start + 0.5 * (from + to) * section.length_m;
      if (from_m < middle && middle < to_m) {
        cut.root_thickness_m -= depth_m;
        cut.tip_thickness_m -= depth_m;
      }
      result.sections.push_back(cut);
      from = to;
    }
    start += section.length_m;
  }
  return result;
}

double cents_between(const Tooth& from, const Tooth& to) {
  return music::cents(first_mode_hz(to) / first_mode_hz(from));
}

Sensitivity sensitivity(const Tooth& tooth) {
  const double tip = length_m(tooth);
  return {.clip_cents_per_mg = 1e-6 * clip_cents_per_kg(tooth),
          .file_root_cents_per_um = 1e-6 * file_cents_per_m(tooth, 0.0, 0.1 * tip),
          .file_tip_cents_per_um = 1e-6 * file_cents_per_m(tooth, 0.9 * tip, tip)};
}

Tooth warmed(const Tooth& tooth, double kelvin) {
  const double longer = 1.0 + steel_expansion_per_k * kelvin;
  const double stiffer = 1.0 + steel_modulus_per_k * kelvin;
  Tooth result = tooth;
  for (Section& section : result.sections) {
    for (double* size : {&section.length_m, &section.root_width_m, &section.tip_width_m,
                         &section.root_thickness_m, &section.tip_thickness_m})
      *size *= longer;
  }
  for (Lead& lead : result.leads) {
    for (double* size :
         {&lead.center_m, &lead.length_m, &lead.height_m, &lead.width_m, &lead.offset_m})
      *size *= longer;
    lead.modulus_pa *= stiffer;
  }
  result.steel.modulus_pa *= stiffer;
  result.steel.density_kg_m3 /= longer * longer * longer;
  result.root.turning_n_m *= stiffer * longer * longer * longer;
  result.root.shifting_n_m *= stiffer * longer;
  return result;
}

double cents_per_k() {
  return 0.5 * (steel_modulus_per_k + steel_expansion_per_k) * music::cents(std::numbers::e);
}

}  // namespace combwright::steel
