// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/quantity.h"
#include "steel/solver/profile.h"
#include "steel/tooth.h"
#include "steel/weight_caution.h"

namespace combwright::steel {
namespace {

using Problem = std::optional<std::string>;

// What any tooth keeps within; wide enough for every comb, narrow enough for every number to stay
// one.
constexpr double least_size_m = 1e-6;
constexpr double greatest_size_m = 10.0;
constexpr double greatest_taper = 100.0;
constexpr double greatest_mass_ratio = 1'000.0;
constexpr double least_root_share = 1e-6;
constexpr double least_bending_share = 1e-6;
// The slenderness from which beam theory is good for the first modes.
constexpr double least_slenderness = 5.0;
constexpr std::size_t most_parts = 256;

Problem outside(std::string_view name, double value, double least, double greatest,
                Dimension dimension) {
  if (value >= least && value <= greatest) return std::nullopt;
  if (!std::isfinite(value)) return fmt::format("{} is no number; give one", name);
  return fmt::format("{} is {}; give one between {} and {}", name, to_text(value, dimension),
                     to_text(least, dimension), to_text(greatest, dimension));
}

Problem bad_size(std::string_view name, double value) {
  return outside(name, value, least_size_m, greatest_size_m, Dimension::length);
}

Problem bad_section(const Section& section) {
  for (const auto& [name, value] : {std::pair{"the length", section.length_m},
                                    {"the width", section.root_width_m},
                                    {"the width at the tip", section.tip_width_m},
                                    {"the thickness", section.root_thickness_m},
                                    {"the thickness at the tip", section.tip_thickness_m}})
    if (Problem problem = bad_size(name, value)) return problem;
  for (const auto& [name, ratio] :
       {std::pair{"width", section.tip_width_m / section.root_width_m},
        {"thickness", section.tip_thickness_m / section.root_thickness_m}}) {
    if (!(ratio <= greatest_taper && ratio >= 1.0 / greatest_taper))
      return fmt::format("the {} changes by more than a factor of {:.0f}; taper less", name,
                         greatest_taper);
  }
  return std::nullopt;
}

Problem bad_steel(const Tooth& tooth) {
  if (Problem problem =
          outside("the steel's modulus", tooth.steel.modulus_pa, 1e9, 1e12, Dimension::pressure))
    return problem;
  if (Problem problem = outside("the steel's density", tooth.steel.density_kg_m3, 100.0, 30'000.0,
                                Dimension::density))
    return problem;
  if (!(tooth.steel.poisson_ratio >= 0.0 && tooth.steel.poisson_ratio <= 0.5))
    return "the steel's Poisson's ratio is impossible; give one between 0 and 0.5";
  if (!(tooth.shear_coefficient > 0.1 && tooth.shear_coefficient <= 1.0))
    return "the shear coefficient is impossible; give one between 0.1 and 1";
  return std::nullopt;
}

Problem bad_root(const Tooth& tooth) {
  const double length = length_m(tooth);
  const double stiffness = steel_profile(tooth, tooth.sections.front(), 0.0).bending_n_m2;
  const double least_turning = least_root_share * stiffness / length;
  const double least_shifting = least_turning / (length * length);
  if (!(tooth.root.turning_n_m >= least_turning)) {
    return fmt::format(
        "the root holds the tooth against turning with {} for a radian; give at "
        "least {}",
        to_text(tooth.root.turning_n_m, Dimension::torque),
        to_text(least_turning, Dimension::torque));
  }
  if (!(tooth.root.shifting_n_m >= least_shifting)) {
    return fmt::format("the root holds the tooth against shifting with {}; give at least {}",
                       to_text(tooth.root.shifting_n_m, Dimension::stiffness),
                       to_text(least_shifting, Dimension::stiffness));
  }
  return std::nullopt;
}

Problem bad_lead_place(const Tooth& tooth, const Lead& lead) {
  const double tip = length_m(tooth);
  const double rounding = 1e-9 * tip;
  if (!(std::abs(lead.center_m) <= greatest_size_m)) return "a lead's place is no length; give one";
  if (lead.length_m > tip + rounding)
    return fmt::format("a lead is {} long, the tooth only {}; give a shorter lead",
                       to_text(lead.length_m, Dimension::length), to_text(tip, Dimension::length));
  if (outer_end_m(lead) > tip + rounding) {
    return fmt::format("a lead ends {} from the root, beyond the tip at {}; move it inwards",
                       to_text(outer_end_m(lead), Dimension::length),
                       to_text(tip, Dimension::length));
  }
  if (inner_end_m(lead) < -rounding)
    return fmt::format("a lead begins {} behind the root; move it outwards",
                       to_text(-inner_end_m(lead), Dimension::length));
  return std::nullopt;
}

Problem bad_lead(const Tooth& tooth, const Lead& lead) {
  const double greatest_mass = greatest_mass_ratio * steel_mass_kg(tooth);
  if (!(lead.mass_kg > 0.0 && lead.mass_kg <= greatest_mass)) {
    return std::isfinite(lead.mass_kg)
               ? fmt::format(
                     "a lead of {} is no weight for this tooth; give one above 0 and up to "
                     "{}",
                     to_text(lead.mass_kg, Dimension::mass),
                     to_text(greatest_mass, Dimension::mass))
               : "a lead's mass is no number; give one";
  }
  if (!(lead.length_m >= 0.0 && lead.length_m <= greatest_size_m))
    return "a lead's length is no length; give one of 0 or more";
  if (lead.length_m > 0.0 && std::isfinite(lead.height_m) && lead.height_m > length_m(tooth)) {
    return fmt::format(
        "a lead of {} on {} would hang {} down, further than the tooth is long; make "
        "it longer or lighter",
        to_text(lead.mass_kg, Dimension::mass), to_text(lead.length_m, Dimension::length),
        to_text(lead.height_m, Dimension::length));
  }
  for (const auto& [name, value] :
       {std::pair{"height", lead.height_m}, {"width", lead.width_m}, {"offset", lead.offset_m}}) {
    if (!(value >= 0.0 && value <= greatest_size_m))
      return fmt::format("a lead's {} is no length up to {}; give one of 0 or more", name,
                         to_text(greatest_size_m, Dimension::length));
  }
  if (!(lead.modulus_pa == 0.0 || std::isinf(lead.modulus_pa) || lead.modulus_pa <= 1e12) ||
      lead.modulus_pa < 0.0)
    return "a lead's modulus is impossible; give one between 0 and 1000 GPa, or rigid";
  if (!(lead.poisson_ratio >= 0.0 && lead.poisson_ratio <= 0.5))
    return "a lead's Poisson's ratio is impossible; give one between 0 and 0.5";
  return bad_lead_place(tooth, lead);
}

// Two blocks cannot share a place.
Problem overlap(const Tooth& tooth) {
  for (const Lead& a : tooth.leads) {
    for (const Lead& b : tooth.leads) {
      if (&a < &b && a.length_m > 0.0 && b.length_m > 0.0 &&
          std::min(outer_end_m(a), outer_end_m(b)) - std::max(inner_end_m(a), inner_end_m(b)) >
              1e-9 * length_m(tooth))
        return "two leads overlap; move them apart";
    }
  }
  return std::nullopt;
}

// Rigid leads, one or several side by side, must leave steel that bends.
Problem all_rigid(const Tooth& tooth) {
  double bends = length_m(tooth);
  for (const Lead& lead : tooth.leads)
    if (std::isinf(lead.modulus_pa)) bends -= lead.length_m;
  if (bends >= least_bending_share * length_m(tooth)) return std::nullopt;
  return "the rigid leads leave nothing of the tooth to bend; give shorter leads";
}

Problem first_problem(const Tooth& tooth) {
  if (tooth.sections.empty() || tooth.sections.size() > most_parts ||
      tooth.leads.size() > most_parts)
    return fmt::format("a tooth has 1 to {} sections and up to {} leads", most_parts, most_parts);
  for (const Section& section : tooth.sections)
    if (Problem problem = bad_section(section)) return problem;
  const double length = length_m(tooth);
  for (const Section& section : tooth.sections) {
    const double thickest = std::max(section.root_thickness_m, section.tip_thickness_m);
    if (thickest > length)
      return fmt::format("the tooth is {} thick and only {} long; no beam theory holds for it",
                         to_text(thickest, Dimension::length), to_text(length, Dimension::length));
  }
  if (Problem problem = bad_steel(tooth)) return problem;
  if (Problem problem = bad_root(tooth)) return problem;
  for (const Lead& lead : tooth.leads)
    if (Problem problem = bad_lead(tooth, lead)) return problem;
  if (Problem problem = overlap(tooth)) return problem;
  return all_rigid(tooth);
}

}  // namespace

std::string problem(const Tooth& tooth) {
  return first_problem(tooth).value_or("");
}

Findings findings(const Tooth& tooth) {
  Findings findings;
  double thickest = 0.0;
  for (const Section& s : tooth.sections)
    thickest = std::max({thickest, s.root_thickness_m, s.tip_thickness_m});
  if (length_m(tooth) < least_slenderness * thickest) {
    findings.push_back({Level::warning, "tooth",
                        fmt::format("it is only {:.1f} times as long as thick, too stout for beam "
                                    "theory",
                                    length_m(tooth) / thickest),
                        "take its pitch as a guess"});
  }
  if (const auto caution = weight_caution(box::WeightMetal::lead); !tooth.leads.empty() && caution)
    findings.push_back(*caution);
  return findings;
}

}  // namespace combwright::steel
