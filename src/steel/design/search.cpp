// SPDX-License-Identifier: Apache-2.0
#include "steel/design/search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "steel/design/curves.h"
#include "steel/design/fit.h"
#include "steel/design/limits.h"

namespace combwright::steel {
namespace {

constexpr std::size_t sampled_teeth = 12;
// Enough for the ring stress to lie within a few per cent. What that, and the teeth between those
// sampled, may take is asked on top.
constexpr int sampled_modes = 4;
constexpr double on_top = 1.05;
// Beside the variances of force and loudness, both of natural logarithms: how heavily a tooth's own
// thickness counts against the smooth line, and a broken rule.
constexpr double roughness_weight = 4.0;
constexpr double breach_weight = 100.0;
constexpr int rounds = 12;

// What the search turns, each from 0 to 1.
using Knobs = std::array<double, 6>;

CombCurves curves(const Bench& bench, const Knobs& knobs) {
  const auto thickness = [&](double knob) {
    return bench.comb.thinnest_m *
           std::pow(bench.comb.plate_thickness_m / bench.comb.thinnest_m, knob);
  };
  const auto taper = [](double knob) { return std::lerp(0.4, 1.0, knob); };
  return {.bend = knobs[0],
          .thickness_m = {thickness(knobs[1]), thickness(knobs[2]), thickness(knobs[3])},
          .taper = {taper(knobs[4]), taper(knobs[5])}};
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
  std::vector<double> force;
  std::vector<double> loudness;
  double roughness = 0.0;
  double broken = 0.0;
  for (const Order& order : sample) {
    const CombTooth tooth = tooth_on(bench, curves, order, sampled_modes);
    force.push_back(std::log(tooth.pluck_force_n));
    loudness.push_back(std::log(tooth.root_force_n));
    const double own = std::log(tooth.as_cut.sections.front().root_thickness_m /
                                root_thickness_m(curves, order.share));
    roughness += own * own;
    broken += breach(bench, tooth);
  }
  const auto count = static_cast<double>(sample.size());
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

}  // namespace

CombTooth tooth_on(const Bench& bench, const CombCurves& curves, const Order& order, int modes) {
  CombTooth tooth = fitted(bench, order,
                           {.length_m = length_m(bench.comb, curves, order.share),
                            .thickness_m = root_thickness_m(curves, order.share),
                            .taper = taper(curves, order.share)});
  measure(bench, tooth, modes);
  return tooth;
}

CombCurves best_curves(const Bench& asked, const std::vector<Order>& orders) {
  Bench bench = asked;
  bench.comb.safety_factor *= on_top;
  bench.comb.thinnest_m *= on_top;
  const std::vector<Order> sample = sampled(orders);
  const auto cost = [&](const Knobs& knobs) {
    return unevenness(bench, sample, curves(bench, knobs));
  };
  Knobs best{0.5, 0.4, 0.5, 0.6, 0.4, 0.7};
  double least = cost(best);
  double step = 0.2;
  for (int round = 0; round < rounds; ++round) {
    const Knobs before = best;
    for (std::size_t i = 0; i < best.size(); ++i) {
      for (const double way : {step, -step}) {
        Knobs tried = best;
        tried[i] = std::clamp(best[i] + way, 0.0, 1.0);
        const double found = cost(tried);
        if (found >= least) continue;
        best = tried;
        least = found;
        break;
      }
    }
    if (best == before) {
      step *= 0.5;
      continue;
    }
    // The pattern move: once more the way that has just helped.
    Knobs further{};
    for (std::size_t i = 0; i < best.size(); ++i)
      further[i] = std::clamp(2.0 * best[i] - before[i], 0.0, 1.0);
    if (const double found = cost(further); found < least) {
      best = further;
      least = found;
    }
  }
  return curves(bench, best);
}

}  // namespace combwright::steel
