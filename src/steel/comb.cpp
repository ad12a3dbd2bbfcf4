// SPDX-License-Identifier: Apache-2.0
#include "steel/comb.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/parallel.h"
#include "steel/design/bench.h"
#include "steel/design/limits.h"
#include "steel/design/search.h"
#include "steel/learning/cut_spread.h"
#include "steel/margin.h"
#include "steel/modes.h"
#include "steel/pluck.h"
#include "steel/weight_caution.h"

namespace combwright::steel {
namespace {

std::vector<double> frequencies(const Tooth& tooth) {
  std::vector<double> hz;
  for (const Mode& mode : modes(tooth)) hz.push_back(mode.frequency_hz);
  return hz;
}

double ratio(const std::vector<CombTooth>& teeth, double CombTooth::*quantity) {
  const auto [least, most] = std::minmax_element(
      teeth.begin(), teeth.end(),
      [&](const CombTooth& a, const CombTooth& b) { return a.*quantity < b.*quantity; });
  return *most.*quantity / (*least.*quantity);
}

// In dB over the median tooth, that of two in the middle by their mean.
void set_levels(std::vector<CombTooth>& teeth) {
  std::vector<double> levels;
  for (const CombTooth& tooth : teeth) levels.push_back(20.0 * std::log10(tooth.root_force_n));
  std::vector<double> sorted = levels;
  std::sort(sorted.begin(), sorted.end());
  const std::size_t half = sorted.size() / 2;
  const double median = 0.5 * (sorted[half] + sorted[(sorted.size() - 1) / 2]);
  for (std::size_t i = 0; i < teeth.size(); ++i) teeth[i].level_db = levels[i] - median;
}

Findings not_at_hand(const Bench& bench) {
  const double plate = bench.comb.plate_thickness_m;
  std::string at_hand;
  for (const double other : bench.plate_m) {
    if (std::abs(other - plate) < 1e-6) return {};
    at_hand += (at_hand.empty() ? "" : ", ") + to_text(other, Dimension::length);
  }
  return {{Level::warning, box::comb_words(bench.comb.name),
           fmt::format("its plate is {} thick; the workshop has {}",
                       to_text(plate, Dimension::length), at_hand),
           "take one of these (comb.plate_thickness), or name the plate (steel.plates of the "
           "shop)"}};
}

// The stoutest tooth, if it is too stout for beam theory.
Findings stout(const Bench& bench, const std::vector<CombTooth>& teeth) {
  Findings result;
  for (const CombTooth& tooth : teeth) {
    for (const Finding& finding : findings(tooth.in_tune)) {
      if (finding.level != Level::warning) continue;
      result.push_back(finding);
      result.back().where =
          fmt::format("{}, track {}", box::comb_words(bench.comb.name), tooth.track);
      return result;
    }
  }
  return result;
}

CombDesign on_curves(const Bench& bench, const std::vector<Order>& orders, const CombCurves& curves,
                     const Watch& watch) {
  CombDesign design{.name = bench.comb.name, .curves = curves};
  design.teeth.resize(orders.size());
  parallel_for(orders.size(), 0, [&](std::size_t i) {
    watch.check();
    CombTooth tooth = tooth_on(bench, curves, orders[i], plucked_modes);
    tooth.modes_hz = frequencies(tooth.in_tune);
    tooth.modes_as_cut_hz = frequencies(tooth.as_cut);
    design.teeth[i] = std::move(tooth);
  });
  set_levels(design.teeth);
  design.ring_stress_limit_pa = bench.endurance_pa / bench.comb.safety_factor;
  design.limits = limits(bench, design.teeth);
  design.force_ratio = ratio(design.teeth, &CombTooth::pluck_force_n);
  design.loudness_db = 20.0 * std::log10(ratio(design.teeth, &CombTooth::root_force_n));
  const Findings faults = broken(bench, design.teeth);
  const Findings plate = not_at_hand(bench);
  const Findings stout_teeth = stout(bench, design.teeth);
  Findings cautions;
  if (const auto caution = weight_caution(bench.lead.metal); design.leaded() && caution)
    cautions.push_back(*caution);
  design.findings = merged({&faults, &plate, &stout_teeth, &cautions});
  return design;
}

bool differ_in_pitch_only(box::Comb a, const box::Comb& b) {
  a.name = b.name;
  a.offset_cents = b.offset_cents;
  a.beat_low_hz = b.beat_low_hz;
  a.beat_high_hz = b.beat_high_hz;
  a.plucked = b.plucked;  // the same to a tooth, whichever way
  return a == b;
}

}  // namespace

std::vector<double> lines(const CombCurves& curves) {
  const auto& [high, middle, low] = curves.stoutness;
  return {curves.bend, high, middle, low, curves.taper[0], curves.taper[1]};
}

bool CombDesign::leaded() const {
  return std::any_of(teeth.begin(), teeth.end(),
                     [](const CombTooth& tooth) { return tooth.leaded(); });
}

bool any_leaded(const std::vector<CombDesign>& designs) {
  return std::any_of(designs.begin(), designs.end(),
                     [](const CombDesign& design) { return design.leaded(); });
}

std::vector<CombDesign> design_combs(const box::Box& box, const box::Shop& shop,
                                     const std::vector<std::vector<double>>& lift_m,
                                     const Watch& watch) {
  assert(lift_m.size() == box.combs.size());
  watch.say("designing the combs");
  std::vector<CombDesign> designs;
  for (std::size_t comb = 0; comb < box.combs.size(); ++comb) {
    const Bench bench = steel::bench(box, comb, shop);
    const std::vector<Order> orders = steel::orders(box, comb, lift_m[comb]);
    const bool alike = comb > 0 && differ_in_pitch_only(box.combs[0], box.combs[comb]);
    CombDesign design = on_curves(
        bench, orders, alike ? designs[0].curves : best_curves(bench, orders, watch), watch);
    design.cut_spread = cut_spread(box, comb, design.teeth);
    const Findings margin = margin_findings(box.combs[comb], design.cut_spread);
    design.findings = merged({&design.findings, &margin});
    designs.push_back(std::move(design));
  }
  return designs;
}

std::vector<std::vector<double>> tip_stiffness_n_m(const std::vector<CombDesign>& combs) {
  std::vector<std::vector<double>> stiffness;
  for (const CombDesign& comb : combs) {
    stiffness.emplace_back();
    for (const CombTooth& tooth : comb.teeth) stiffness.back().push_back(tooth.tip_stiffness_n_m);
  }
  return stiffness;
}

}  // namespace combwright::steel
