// SPDX-License-Identifier: Apache-2.0
#include "steel/design/fit.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

#include <boost/math/tools/toms748_solve.hpp>

#include "music/pitch.h"
#include "steel/modes.h"
#include "steel/pluck.h"
#include "steel/strength.h"
#include "steel/tuning.h"

namespace combwright::steel {
namespace {

// What a drawing gives.
constexpr double lengths_per_m = 1e5;
constexpr double thicknesses_per_m = 1e6;
constexpr double leads_per_m = 1e4;  // one in lead_step_m
constexpr double least_thickness_m = 1e-5;
// A tooth whose lead cannot be cut finely enough goes without if it need not be thinner than this
// share of the smooth line.
constexpr double most_off_line = 0.85;
// No tip is filed to less than this share of the root's thickness, nor left thicker than that.
constexpr double least_tip = 0.05;
constexpr double thickest_tip = 1.5;

double rounded(double value_m, double per_m) {
  return std::round(value_m * per_m) / per_m;
}

// Where a continuous function is 0 between two places at which its signs differ (Alefeld, Potra
// and Shi, ACM algorithm 748); where they do not, the place at which it is nearer to 0.
template <class Function>
double zero_or_end(const Function& function, double low, double high) {
  const double at_low = function(low);
  const double at_high = function(high);
  if ((at_low < 0.0) == (at_high < 0.0) || at_low == 0.0 || at_high == 0.0)
    return std::abs(at_low) < std::abs(at_high) ? low : high;
  std::uintmax_t steps = 60;
  const auto [a, b] = boost::math::tools::toms748_solve(
      function, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(35), steps);
  return 0.5 * (a + b);
}

Tooth bare(const Bench& bench, double length_m, double root_thickness_m, double tip_thickness_m) {
  Tooth tooth = plain_tooth(length_m, bench.comb.tooth_width_m, root_thickness_m, tip_thickness_m,
                            bench.steel);
  tooth.root = yielding_root(bench.steel.modulus_pa, bench.comb.tooth_width_m, root_thickness_m,
                             bench.comb.root_yield);
  return tooth;
}

double aim_hz(const Bench& bench, double target_hz) {
  const double flat = 0.5 * (bench.comb.least_flat_cents + bench.comb.most_flat_cents);
  return target_hz * std::exp2(-flat / 1200.0);
}

Tooth with_lead(const Bench& bench, const Tooth& tooth, double bar_m, double lead_length_m) {
  const double center = length_m(tooth) - bench.lead.tip_gap_m - 0.5 * lead_length_m;
  const double mass = bench.weight.density_kg_m3 * bar_m * bench.comb.tooth_width_m * lead_length_m;
  Tooth result = tooth;
  result.leads = {lead_block(tooth, mass, center, lead_length_m, bench.weight)};
  return result;
}

// Its lead shortened to this, from the tip end.
Tooth shortened(const Tooth& tooth, double lead_length_m) {
  const Lead& lead = tooth.leads.front();
  return clipped(tooth, 0, lead.mass_kg * (1.0 - lead_length_m / lead.length_m));
}

double longest_lead_m(const Bench& bench, double tooth_length_m) {
  const double room =
      std::min(bench.lead.longest * tooth_length_m, 0.9 * tooth_length_m - bench.lead.tip_gap_m);
  return std::floor(room / lead_step_m) * lead_step_m;
}

// Above 0 if the tooth is too flat. Almost a straight line over the mass of a lead.
double flatness(const Tooth& tooth, double hz) {
  const double ratio = hz / first_mode_hz(tooth);
  return ratio * ratio - 1.0;
}

// The lead as first fitted: from the lowest bar that is long enough, or all that may be had; none
// if no bar can hang under the tooth at all.
Tooth flat_with_lead(const Bench& bench, const Tooth& tooth, double flat_hz) {
  const double longest = longest_lead_m(bench, length_m(tooth));
  const auto flat_enough = [&](double bar) {
    return flatness(with_lead(bench, tooth, bar, longest), flat_hz) >= 0.0;
  };
  const auto end = std::partition_point(bench.bar_m.begin(), bench.bar_m.end(), [&](double bar) {
    return problem(with_lead(bench, tooth, bar, longest)).empty();
  });
  if (end == bench.bar_m.begin()) return tooth;
  const auto found =
      std::partition_point(bench.bar_m.begin(), end, [&](double bar) { return !flat_enough(bar); });
  if (found == end) return with_lead(bench, tooth, *(end - 1), longest);
  const double length =
      zero_or_end([&](double l) { return flatness(with_lead(bench, tooth, *found, l), flat_hz); },
                  lead_step_m, longest);
  return with_lead(bench, tooth, *found, rounded(length, leads_per_m));
}

// Nothing if the pitch wants less lead than can be left.
std::optional<CombTooth> leaded(const Bench& bench, const Order& order, const Tooth& tooth) {
  if (first_mode_hz(tooth) <= order.target_hz ||
      longest_lead_m(bench, length_m(tooth)) <= least_lead_m)
    return std::nullopt;
  CombTooth result{.track = order.track, .midi = order.midi, .target_hz = order.target_hz};
  result.as_cut = flat_with_lead(bench, tooth, aim_hz(bench, order.target_hz));
  if (!result.leaded()) return std::nullopt;
  const double full = result.as_cut.leads.front().length_m;
  const auto flat = [&](double l) {
    return flatness(shortened(result.as_cut, l), order.target_hz);
  };
  if (full <= least_lead_m || flat(least_lead_m) >= 0.0) return std::nullopt;
  const double length = zero_or_end(flat, least_lead_m, full);
  result.in_tune = shortened(result.as_cut, length);
  if (length > lead_step_m)
    result.step_cents =
        cents_between(result.in_tune, shortened(result.in_tune, length - lead_step_m));
  return result;
}

// Ground to its own thickness, so that in tune it has the blank's taper; as cut its tip is thicker.
CombTooth unleaded(const Bench& bench, const Order& order, double length, double taper) {
  const double thickest = std::min(bench.comb.plate_thickness_m, 0.5 * length);
  const double thinnest = std::min(bench.comb.thinnest_m, 0.5 * thickest);
  const auto sharp = [&](double root, double tip, double hz) {
    return first_mode_hz(bare(bench, length, root, tip)) / hz - 1.0;
  };
  const double root =
      rounded(zero_or_end([&](double h) { return sharp(h, taper * h, order.target_hz); }, thinnest,
                          thickest),
              thicknesses_per_m);
  const double flat_hz = aim_hz(bench, order.target_hz);
  const double cut_tip = rounded(zero_or_end([&](double tip) { return sharp(root, tip, flat_hz); },
                                             taper * root, std::min(thickest, thickest_tip * root)),
                                 thicknesses_per_m);
  const double tip = zero_or_end([&](double t) { return sharp(root, t, order.target_hz); },
                                 least_tip * root, cut_tip);
  CombTooth result{.track = order.track, .midi = order.midi, .target_hz = order.target_hz};
  result.as_cut = bare(bench, length, root, cut_tip);
  result.in_tune = bare(bench, length, root, tip);
  if (tip > 2.0 * file_step_m) {
    result.file_step_cents =
        cents_between(result.in_tune, bare(bench, length, root, tip - file_step_m));
  }
  return result;
}

// How far the lower edge of a tooth and its lead goes sideways if the star wheel plucks at the edge
// of its tip: the angle of twist F (b / 2) L / (G J) times the height. J of a rectangle: Roark's
// Formulas for Stress and Strain, torsion of bars.
double sideways_m(const Tooth& tooth, double force_n) {
  const double length = length_m(tooth);
  const double width = tooth.sections.front().root_width_m;
  const double thickness = thickness_m(tooth, 0.5 * length);
  const double a = 0.5 * std::max(width, thickness);
  const double b = 0.5 * std::min(width, thickness);
  const double torsion =
      a * b * b * b * (16.0 / 3.0 - 3.36 * b / a * (1.0 - std::pow(b / a, 4) / 12.0));
  const double shear = tooth.steel.modulus_pa / (2.0 * (1.0 + tooth.steel.poisson_ratio));
  const double height = thickness + (tooth.leads.empty() ? 0.0 : tooth.leads.front().height_m);
  return force_n * 0.5 * width * length / (shear * torsion) * height;
}

}  // namespace

CombTooth fitted(const Bench& bench, const Order& order, const Blank& blank) {
  const double length = rounded(blank.length_m, lengths_per_m);
  const double root =
      std::clamp(rounded(blank.thickness_m, thicknesses_per_m), least_thickness_m, 0.5 * length);
  const double tip = std::max(rounded(blank.taper * root, thicknesses_per_m), least_thickness_m);
  CombTooth tooth = leaded(bench, order, bare(bench, length, root, tip)).value_or(CombTooth{});
  if (!tooth.leaded() || tooth.step_cents > bench.lead.coarsest_step_cents) {
    const CombTooth own = unleaded(bench, order, length, blank.taper);
    const double own_root = own.as_cut.sections.front().root_thickness_m;
    if (!tooth.leaded() || own_root > most_off_line * root) tooth = own;
  }
  tooth.lift_m = order.lift_m;
  tooth.flat_cents = -music::cents(first_mode_hz(tooth.as_cut) / order.target_hz);
  return tooth;
}

void measure(const Bench& bench, CombTooth& tooth, int count) {
  const Pluck plucked = pluck(tooth.in_tune, tooth.lift_m, count);
  const Mode first = modes(tooth.in_tune, 1).front();
  tooth.tip_stiffness_n_m = plucked.force_n / tooth.lift_m;
  tooth.pluck_force_n = plucked.force_n;
  tooth.pluck_energy_j = plucked.energy_j;
  tooth.root_stress_pa = plucked.root_stress_pa;
  tooth.ring_stress_pa = plucked.peak_root_stress_pa;
  tooth.safety_factor = goodman_factor(-plucked.peak_root_stress_pa, plucked.peak_root_stress_pa,
                                       bench.endurance_pa, bench.strength_pa);
  tooth.root_force_n = std::abs(first.root_force_n_m) * first.release_share * tooth.lift_m;
  tooth.sideways_m = sideways_m(tooth.in_tune, plucked.force_n);
}

}  // namespace combwright::steel
