// SPDX-License-Identifier: Apache-2.0
#include "steel/design/search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/parallel.h"
#include "steel/design/curves.h"
#include "steel/design/fit.h"
#include "steel/design/limits.h"

namespace combwright::steel {
namespace {

constexpr std::size_t sampled_teeth = 16;
// Enough for the ring stress to lie within a tenth. What that, and the teeth between those
// sampled, may take is asked on top.
constexpr int sampled_modes = 2;
constexpr double safety_on_top = 1.15;
constexpr double on_top = 1.05;
// Beside the variances of force and loudness, both of natural logarithms: how heavily a tooth's own
// thickness counts against the smooth line, and a broken rule.
constexpr double roughness_weight = 4.0;
constexpr double breach_weight = 20.0;
constexpr int rounds = 11;

// What the search turns: the bend, the logarithms of the three stoutnesses, the two tapers.
using Knobs = std::array<double, 6>;
constexpr Knobs least_knobs{0.0, -6.0, -6.0, -6.0, 0.4, 0.4};
constexpr Knobs most_knobs{1.0, -2.0, -2.0, -2.0, 1.0, 1.0};
constexpr Knobs knob_steps{0.25, 0.1, 0.1, 0.1, 0.15, 0.15};

// From where the search begins, against the first start: alike; stouter and slimmer towards the
// bass.
constexpr std::array<Knobs, 3> starts{
    {{}, {0.0, 0.0, 0.15, 0.3, 0.0, 0.0}, {0.0, 0.0, -0.15, -0.3, 0.0, 0.0}}};

CombCurves on_lines(const std::vector<double>& lines) {
  return {
      .bend = lines[0], .stoutness = {lines[1], lines[2], lines[3]}, .taper = {lines[4], lines[5]}};
}

CombCurves rounded(CombCurves curves) {
  constexpr double per_one = 1e6;
  const auto round = [](double& share) { share = std::round(share * per_one) / per_one; };
  round(curves.bend);
  for (double& stoutness : curves.stoutness) round(stoutness);
  for (double& taper : curves.taper) round(taper);
  return curves;
}

CombCurves curves(const Knobs& knobs) {
  return {.bend = knobs[0],
          .stoutness = {std::exp(knobs[1]), std::exp(knobs[2]), std::exp(knobs[3])},
          .taper = {knobs[4], knobs[5]}};
}

double variance(const std::vector<double>& values) {
  const auto count = static_cast<double>(values.size());
  double sum = 0.0;
  double squares = 0.0;
  for (const double value : values) {
    sum += value;
    squares += value * value;
  }
  return std::max(0.0, squares / count - sum * sum / (count * count));
}

// What is minimised.
double unevenness(const Bench& bench, const std::vector<Order>& sample, const CombCurves& curves) {
  std::vector<CombTooth> teeth;
  teeth.reserve(sample.size());
  for (const Order& order : sample) teeth.push_back(tooth_on(bench, curves, order, sampled_modes));
  std::vector<double> force;
  std::vector<double> loudness;
  double roughness = 0.0;
  double broken = 0.0;
  for (std::size_t i = 0; i < teeth.size(); ++i) {
    const CombTooth& tooth = teeth[i];
    force.push_back(std::log(tooth.pluck_force_n));
    loudness.push_back(std::log(tooth.root_force_n));
    const double own = std::log(tooth.as_cut.sections.front().root_thickness_m /
                                root_thickness_m(bench.comb, curves, sample[i].share));
    roughness += own * own;
    broken += breach(bench, tooth);
  }
  const auto count = static_cast<double>(teeth.size());
  return variance(force) + variance(loudness) + roughness_weight * roughness / count +
         breach_weight * broken / count;
}

std::vector<Order> sampled(const std::vector<Order>& orders) {
  if (orders.size() <= sampled_teeth) return orders;
  std::vector<Order> sample;
  for (std::size_t i = 0; i < sampled_teeth; ++i)
    sample.push_back(orders[i * (orders.size() - 1) / (sampled_teeth - 1)]);
  return sample;
}

// All teeth as stout as the highest one must be without a lead.
Knobs start(const Bench& bench, const std::vector<Order>& sample) {
  constexpr double taper = 0.6;
  const Order& highest =
      *std::min_element(sample.begin(), sample.end(),
                        [](const Order& a, const Order& b) { return a.share < b.share; });
  const double length = bench.comb.shortest_tooth_m;
  const CombTooth bare = fitted(
      bench, highest, {.length_m = length, .thickness_m = bench.comb.thinnest_m, .taper = taper});
  const double stoutness = std::log(bare.as_cut.sections.front().root_thickness_m / length);
  return {0.5, stoutness, stoutness, stoutness, taper, taper};
}

// From there by some of those steps, within the bounds.
Knobs moved(const Knobs& from, const Knobs& by, double share) {
  Knobs to{};
  for (std::size_t i = 0; i < to.size(); ++i)
    to[i] = std::clamp(from[i] + share * by[i], least_knobs[i], most_knobs[i]);
  return to;
}

// Where Hooke and Jeeves' search ends up from there.
template <class Cost>
Knobs descended(const Cost& cost, Knobs best, double scale = 1.0) {
  double least = cost(best);
  for (int round = 0; round < rounds; ++round) {
    const Knobs before = best;
    for (std::size_t i = 0; i < best.size(); ++i) {
      Knobs one{};
      one[i] = knob_steps[i];
      for (const double way : {scale, -scale}) {
        const Knobs tried = moved(best, one, way);
        const double found = cost(tried);
        if (found >= least) continue;
        best = tried;
        least = found;
        break;
      }
    }
    if (best == before) {
      scale *= 0.5;
      continue;
    }
    // The pattern move: once more the way that has just helped.
    Knobs change{};
    for (std::size_t i = 0; i < best.size(); ++i) change[i] = best[i] - before[i];
    const Knobs further = moved(best, change, 1.0);
    if (const double found = cost(further); found < least) {
      best = further;
      least = found;
    }
  }
  return best;
}

}  // namespace

CombTooth tooth_on(const Bench& bench, const CombCurves& curves, const Order& order, int modes) {
  CombTooth tooth = fitted(bench, order,
                           {.length_m = length_m(bench.comb, curves, order.share),
                            .thickness_m = root_thickness_m(bench.comb, curves, order.share),
                            .taper = taper(curves, order.share)});
  measure(bench, tooth, modes);
  return tooth;
}

CombCurves best_curves(const Bench& asked, const std::vector<Order>& orders, const Watch& watch) {
  if (!asked.comb.lines.empty()) return on_lines(asked.comb.lines);
  Bench bench = asked;
  bench.comb.safety_factor *= safety_on_top;
  bench.lead.coarsest_step_cents /= on_top;
  bench.comb.thinnest_m *= on_top;
  const double flat_on_top = 0.1 * (bench.comb.most_flat_cents - bench.comb.least_flat_cents);
  bench.comb.least_flat_cents += flat_on_top;
  bench.comb.most_flat_cents -= flat_on_top;
  const std::vector<Order> sample = sampled(orders);
  const auto cost = [&](const Knobs& knobs) {
    watch.check();
    return unevenness(bench, sample, curves(knobs));
  };
  const auto cost_of_all = [&](const Knobs& knobs) {
    watch.check();
    return unevenness(bench, orders, curves(knobs));
  };
  // Of the rules as asked.
  const auto broken = [&](const Knobs& knobs) {
    double sum = 0.0;
    for (const Order& order : orders)
      sum += breach(asked, tooth_on(asked, rounded(curves(knobs)), order, sampled_modes));
    return sum;
  };
  const Knobs first = start(bench, sample);
  std::array<Knobs, starts.size()> ends{};
  std::array<std::pair<double, double>, starts.size()> found{};
  parallel_for(starts.size(), 0, [&](std::size_t i) {
    ends[i] = descended(cost, moved(first, starts[i], 1.0));
    found[i] = {broken(ends[i]), cost_of_all(ends[i])};
  });
  const auto least = std::min_element(found.begin(), found.end());
  Knobs best = ends[static_cast<std::size_t>(least - found.begin())];
  if (least->first > 0.0) {
    constexpr double finer = 0.25;
    const Knobs mended = descended(cost_of_all, best, finer);
    if (broken(mended) < least->first) best = mended;
  }
  return rounded(curves(best));
}

}  // namespace combwright::steel
