// SPDX-License-Identifier: Apache-2.0
#include "steel/design/limits.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "music/pitch.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

struct Sides {
  double value = 0.0;
  double bound = 0.0;
};

// A rule: value >= bound, or <= where `at_most`.
struct Rule {
  std::string_view name;
  std::optional<Dimension> dimension;
  bool at_most;
  bool of_leads;  // holds for teeth with leads only
  double scale;   // what a breach is measured in; 0 for shares of the bound
  Sides (*sides)(const Bench&, const CombTooth&);
  std::string_view remedy;
};

const Section& steel_of(const Tooth& tooth) {
  return tooth.sections.front();
}

double off_pitch_cents(const CombTooth& tooth) {
  return std::abs(music::cents(first_mode_hz(tooth.in_tune) / tooth.target_hz));
}

double lead_bottom_m(const CombTooth& tooth) {
  return tooth.as_cut.leads.front().height_m + tooth.lift_m;
}

constexpr std::array<Rule, 11> rules{{
    {"off its pitch when tuned", Dimension::interval, true, false, 100.0,
     [](const Bench&, const CombTooth& tooth) {
       return Sides{off_pitch_cents(tooth), comb_pitch_error_cents};
     },
     "allow longer weights (lead.longest) or higher bars (lead.bars of the shop) if it is sharp, a "
     "thicker plate or a shorter tooth if it is flat"},
    {"flat as cut, at least", Dimension::interval, false, false, 100.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{tooth.flat_cents, bench.comb.least_flat_cents};
     },
     "allow longer weights (lead.longest), higher bars (lead.bars of the shop) or a longer "
     "comb.longest_tooth; or take lead.metal = tungsten"},
    {"flat as cut, at most", Dimension::interval, true, false, 100.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{tooth.flat_cents, bench.comb.most_flat_cents};
     },
     "take a thicker comb.plate_thickness or a shorter tooth"},
    {"weight left when tuned", Dimension::length, false, true, 0.0,
     [](const Bench&, const CombTooth& tooth) {
       return Sides{tooth.in_tune.leads.front().length_m, lead_step_m};
     },
     "have lower bars at hand (lead.bars of the shop)"},
    {"worth of 0.1 mm of weight", Dimension::interval, true, true, 0.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{tooth.step_cents, bench.lead.coarsest_step_cents};
     },
     "have lower bars at hand (lead.bars of the shop), allow longer weights (lead.longest) or more "
     "for a step (lead.coarsest_step), or make the tooth longer (comb.longest_tooth)"},
    {"thinnest place", Dimension::length, false, false, 0.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{std::min(steel_of(tooth.in_tune).root_thickness_m,
                             steel_of(tooth.in_tune).tip_thickness_m),
                    bench.comb.thinnest_m};
     },
     "make the tooth longer (comb.shortest_tooth), or allow less (comb.thinnest)"},
    {"thickest place", Dimension::length, true, false, 0.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{std::max(steel_of(tooth.as_cut).root_thickness_m,
                             steel_of(tooth.as_cut).tip_thickness_m),
                    bench.comb.plate_thickness_m};
     },
     "take a thicker comb.plate_thickness"},
    {"safety factor", std::nullopt, false, false, 0.0,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{tooth.safety_factor, bench.comb.safety_factor};
     },
     "lift the teeth less (star_wheel.tooth_overlap), take a stronger steel (steel.strength), or a "
     "smaller comb.safety_factor"},
    {"air to the neighbour", Dimension::length, false, false, 1e-3,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{bench.comb.tooth_gap_m - 2.0 * tooth.sideways_m, bench.comb.clearance_m};
     },
     "saw wider (comb.tooth_gap), or allow less (comb.clearance)"},
    {"air over the bedplate", Dimension::length, false, true, 1e-3,
     [](const Bench& bench, const CombTooth& tooth) {
       return Sides{bench.comb.room_below_m - lead_bottom_m(tooth), bench.comb.clearance_m};
     },
     "cut the bedplate deeper (comb.room_below), use lower bars and allow longer weights "
     "(lead.longest)"},
    {"air from weight to star wheel", Dimension::length, false, true, 1e-3,
     [](const Bench& bench, const CombTooth&) {
       return Sides{bench.lead.tip_gap_m - bench.tooth_overlap_m, bench.comb.clearance_m};
     },
     "set the weights further back (lead.tip_gap)"},
}};

double margin(const Rule& rule, const Sides& sides) {
  return rule.at_most ? sides.bound - sides.value : sides.value - sides.bound;
}

bool holds_for(const Rule& rule, const CombTooth& tooth) {
  return !rule.of_leads || tooth.leaded();
}

struct Worst {
  CombLimit limit;
  const CombTooth* tooth = nullptr;
};

std::optional<Worst> worst(const Rule& rule, const Bench& bench,
                           const std::vector<CombTooth>& teeth) {
  std::optional<Worst> found;
  int broken = 0;
  for (const CombTooth& tooth : teeth) {
    if (!holds_for(rule, tooth)) continue;
    const Sides sides = rule.sides(bench, tooth);
    const double left = margin(rule, sides);
    broken += left < 0.0 ? 1 : 0;
    if (!found || left < found->limit.margin) {
      found = {{.name = std::string(rule.name),
                .dimension = rule.dimension,
                .bound = sides.bound,
                .worst = sides.value,
                .margin = left,
                .track = tooth.track},
               &tooth};
    }
  }
  if (found) found->limit.broken = broken;
  return found;
}

}  // namespace

std::string to_text(const CombLimit& limit, double value) {
  if (!limit.dimension) return fmt::format("{:.2f}", value);
  if (*limit.dimension == Dimension::length) return fmt::format("{:.3f} mm", 1e3 * value);
  // A bound of a thousandth of a cent wants one place more than what a tuner hears.
  return fmt::format("{:.{}f} cents", value, limit.bound < 0.1 ? 3 : 2);
}

double breach(const Bench& bench, const CombTooth& tooth) {
  double sum = 0.0;
  for (const Rule& rule : rules) {
    if (!holds_for(rule, tooth)) continue;
    const Sides sides = rule.sides(bench, tooth);
    const double scale = rule.scale > 0.0 ? rule.scale : sides.bound;
    sum += std::max(0.0, -margin(rule, sides)) / scale;
  }
  return sum;
}

std::vector<CombLimit> limits(const Bench& bench, const std::vector<CombTooth>& teeth) {
  std::vector<CombLimit> result;
  for (const Rule& rule : rules)
    if (const auto found = worst(rule, bench, teeth)) result.push_back(found->limit);
  return result;
}

Findings broken(const Bench& bench, const std::vector<CombTooth>& teeth) {
  Findings findings;
  for (const Rule& rule : rules) {
    const auto found = worst(rule, bench, teeth);
    if (!found || found->limit.broken == 0) continue;
    const CombLimit& limit = found->limit;
    findings.push_back(
        {Level::fault,
         fmt::format("{}, track {} ({})", box::comb_words(bench.comb.name), limit.track,
                     music::note_name(found->tooth->midi)),
         fmt::format("{}: it is {}, {} {}{}", limit.name, to_text(limit, limit.worst),
                     rule.at_most ? "and may be at most" : "and must be at least",
                     to_text(limit, limit.bound),
                     limit.broken > 1 ? fmt::format("; so with {} teeth", limit.broken) : ""),
         std::string(rule.remedy)});
  }
  return findings;
}

}  // namespace combwright::steel
