// SPDX-License-Identifier: Apache-2.0
#include "disc/shop_checks.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/quantity.h"

namespace combwright::disc {
namespace {

constexpr double same_length_m = 1e-6;

std::string length_text(double length_m) {
  return to_text(length_m, Dimension::length);
}

}  // namespace

double stroke_force_n(const box::Box& box, const box::Shop& shop) {
  const double perimeter_m = 2.0 * (box.projection.length_m + box.projection.width_m);
  return perimeter_m * box.disc.thickness_m * shop.punch.sheet_shear_strength_pa;
}

Findings check_shop(const box::Box& box, const box::Shop& shop) {
  Findings findings;
  const box::Punch& punch = shop.punch;
  const double force = stroke_force_n(box, shop);
  if (force > punch.force_limit_n) {
    findings.push_back({.level = Level::fault,
                        .where = "punch.force_limit",
                        .what = fmt::format("a stroke takes about {}; the punch presses {} at most",
                                            to_text(force, Dimension::force),
                                            to_text(punch.force_limit_n, Dimension::force)),
                        .remedy = "use thinner or softer sheet, or smaller projections"});
  }
  // Lines of the shop's own say where the stroke ends; else the program does.
  if (punch.hit.empty()) {
    const double travel = -punch.down_m;
    const double least = box.projection.height_m + box.disc.thickness_m;
    const double most = box.projection.height_m + 3.0 * box.disc.thickness_m;
    if (travel < box.projection.height_m) {
      findings.push_back(
          {.level = Level::fault,
           .where = "punch.down",
           .what = fmt::format("the stroke ends {} below the top of the sheet; a projection stands "
                               "out {}",
                               length_text(travel), length_text(box.projection.height_m)),
           .remedy = fmt::format("let the stroke go {} deep at least", length_text(least))});
    } else if (travel < least - same_length_m || travel > most + same_length_m) {
      const bool shallow = travel < least;
      findings.push_back(
          {.level = Level::warning,
           .where = "punch.down",
           .what =
               fmt::format("the stroke ends {} below the top of the sheet; {}", length_text(travel),
                           shallow ? "the projection may spring back and stand too low"
                                   : "that deep it draws the projection out or tears it off"),
           .remedy = fmt::format("common practice: the projection's height and one to three "
                                 "thicknesses of the sheet, {} to {}",
                                 length_text(least), length_text(most))});
    }
    if (punch.up_m < box.disc.thickness_m) {
      findings.push_back(
          {.level = Level::warning,
           .where = "punch.up",
           .what = fmt::format("the tool clears the sheet by only {}", length_text(punch.up_m)),
           .remedy = "lift it by the sheet's thickness at least, more if burrs stand up"});
    }
  }
  constexpr double same_sheet_m = 1e-5;
  const bool at_hand =
      std::any_of(shop.sheets.begin(), shop.sheets.end(), [&](const box::SheetStock& sheet) {
        return std::abs(sheet.thickness_m - box.disc.thickness_m) <= same_sheet_m;
      });
  if (!shop.sheets.empty() && !at_hand) {
    findings.push_back({.level = Level::warning,
                        .where = "sheet",
                        .what = fmt::format("the shop has no sheet of {} for this disc",
                                            length_text(box.disc.thickness_m)),
                        .remedy = "order it, or change disc.thickness in the box file"});
  }
  return findings;
}

}  // namespace combwright::disc
