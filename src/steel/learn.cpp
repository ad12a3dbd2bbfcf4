// SPDX-License-Identifier: Apache-2.0
#include "steel/learn.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include <Eigen/Dense>
#include <fmt/format.h>

#include "music/pitch.h"
#include "steel/modes.h"

namespace combwright::steel {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

constexpr double least_spread = 1e-9;
constexpr double huber_limit = 1.345;  // 95 % as efficient as least squares where nothing is off
constexpr double far_off = 3.0;        // in scatters
constexpr double scatter_readings = 4.0;

// The unknowns as the search turns them: each comb's root yield, then the logarithms of modulus and
// density against what the box says.
struct Unknowns {
  std::size_t combs = 0;
  Vector before;
  Vector spread;

  Eigen::Index size() const { return before.size(); }
  Eigen::Index modulus() const { return static_cast<Eigen::Index>(combs); }
  Eigen::Index density() const { return modulus() + 1; }
};

Unknowns unknowns_of(const box::Box& box) {
  Unknowns unknowns{.combs = box.combs.size()};
  const auto size = static_cast<Eigen::Index>(unknowns.combs + 2);
  unknowns.before = Vector::Zero(size);
  unknowns.spread = Vector::Zero(size);
  for (std::size_t i = 0; i < unknowns.combs; ++i) {
    unknowns.before[static_cast<Eigen::Index>(i)] = box.combs[i].root_yield;
    unknowns.spread[static_cast<Eigen::Index>(i)] = box.combs[i].root_yield_spread;
  }
  unknowns.spread[unknowns.modulus()] = box.steel.modulus_spread;
  unknowns.spread[unknowns.density()] = box.lead.density_spread;
  unknowns.spread = unknowns.spread.cwiseMax(least_spread);
  return unknowns;
}

// The tooth of the design if these were true: its shape stays.
double pitch_hz(const CombTooth& designed, std::size_t comb, const Unknowns& unknowns,
                const Vector& at) {
  Tooth tooth = designed.as_cut;
  tooth.steel.modulus_pa *= std::exp(at[unknowns.modulus()]);
  for (Lead& lead : tooth.leads) lead.mass_kg *= std::exp(at[unknowns.density()]);
  const Section& root = tooth.sections.front();
  const double yield_m = std::max(0.0, at[static_cast<Eigen::Index>(comb)]) * root.root_thickness_m;
  tooth.root.turning_n_m = yield_m > 0.0 ? tooth.steel.modulus_pa * root.root_width_m *
                                               std::pow(root.root_thickness_m, 3) / (12.0 * yield_m)
                                         : rigid;
  return first_mode_hz(tooth);
}

// Cents for one unit of each unknown.
Vector slopes(const CombTooth& tooth, std::size_t comb, const Unknowns& unknowns,
              const Vector& at) {
  constexpr double step = 1e-3;
  Vector result = Vector::Zero(unknowns.size());
  for (const Eigen::Index i :
       {static_cast<Eigen::Index>(comb), unknowns.modulus(), unknowns.density()}) {
    if (i == unknowns.density() && !tooth.leaded()) continue;
    Vector up = at;
    Vector down = at;
    up[i] += step;
    down[i] = std::max(i < unknowns.modulus() ? 0.0 : at[i] - step, at[i] - step);
    result[i] =
        music::cents(pitch_hz(tooth, comb, unknowns, up) / pitch_hz(tooth, comb, unknowns, down)) /
        (up[i] - down[i]);
  }
  return result;
}

Matrix prior_weight(const Unknowns& unknowns) {
  return unknowns.spread.cwiseAbs2().cwiseInverse().asDiagonal();
}

const CombTooth& tooth_of(const std::vector<CombDesign>& designs, const PitchReading& reading) {
  return designs[reading.comb].teeth[reading.tooth];
}

double reading_cents(const PitchReading& reading) {
  return music::cents(1.0 + reading.stderr_hz / reading.frequency_hz);
}

struct Fit {
  Vector at;
  Matrix covariance;
  Vector left_cents;
  Vector weight;
  double scatter_cents = usual_scatter_cents;
};

Fit fitted(const std::vector<CombDesign>& designs, const std::vector<PitchReading>& readings,
           const Unknowns& unknowns) {
  constexpr int rounds = 30;
  const auto count = static_cast<Eigen::Index>(readings.size());
  Fit fit{.at = unknowns.before, .left_cents = Vector(count), .weight = Vector::Ones(count)};
  for (int round = 0; round < rounds; ++round) {
    Matrix normal = prior_weight(unknowns);
    Vector pull = normal * (unknowns.before - fit.at);
    double squares = scatter_readings * usual_scatter_cents * usual_scatter_cents;
    double counted = scatter_readings;
    for (Eigen::Index i = 0; i < count; ++i) {
      const PitchReading& reading = readings[static_cast<std::size_t>(i)];
      const CombTooth& tooth = tooth_of(designs, reading);
      const double left =
          music::cents(reading.frequency_hz / pitch_hz(tooth, reading.comb, unknowns, fit.at));
      const double spread = std::hypot(fit.scatter_cents, reading_cents(reading));
      const double share = std::abs(left) / spread;
      const double weight = share > huber_limit ? huber_limit / share : 1.0;
      const Vector slope = slopes(tooth, reading.comb, unknowns, fit.at);
      normal += weight / (spread * spread) * slope * slope.transpose();
      pull += weight / (spread * spread) * left * slope;
      fit.left_cents[i] = left;
      fit.weight[i] = weight;
      squares += weight * left * left;
      counted += weight;
    }
    fit.covariance = normal.inverse();
    const Vector step = fit.covariance * pull;
    fit.at += step;
    for (std::size_t comb = 0; comb < unknowns.combs; ++comb) {
      double& yield = fit.at[static_cast<Eigen::Index>(comb)];
      yield = std::clamp(yield, 0.0, 1.0);
    }
    fit.scatter_cents = std::sqrt(squares / counted);
    if (step.cwiseQuotient(unknowns.spread).cwiseAbs().maxCoeff() < 1e-8) break;
  }
  return fit;
}

std::vector<CutSpread> spread_by(const std::vector<CombDesign>& designs, const Unknowns& unknowns,
                                 const Vector& at, const Matrix& covariance, double scatter_cents) {
  std::vector<CutSpread> result(designs.size());
  for (std::size_t comb = 0; comb < designs.size(); ++comb) {
    double most = 0.0;
    for (const CombTooth& tooth : designs[comb].teeth) {
      const Vector slope = slopes(tooth, comb, unknowns, at);
      most = std::max(most, slope.dot(covariance * slope));
    }
    result[comb] = {std::sqrt(most), std::sqrt(most + scatter_cents * scatter_cents)};
  }
  return result;
}

std::vector<Learnt> in_units(const box::Box& box, const Unknowns& unknowns, const Fit& fit) {
  std::vector<Learnt> learnt;
  const auto spread = [&](Eigen::Index i) { return std::sqrt(fit.covariance(i, i)); };
  for (std::size_t comb = 0; comb < unknowns.combs; ++comb) {
    const auto i = static_cast<Eigen::Index>(comb);
    learnt.push_back(
        {"comb.root_yield", comb, unknowns.before[i], unknowns.spread[i], fit.at[i], spread(i)});
  }
  const auto scaled = [&](const char* key, Eigen::Index i, double value) {
    const double found = value * std::exp(fit.at[i]);
    learnt.push_back({key, 0, value, value * unknowns.spread[i], found, found * spread(i)});
  };
  scaled("steel.modulus", unknowns.modulus(), box.steel.modulus_pa);
  scaled("lead.density", unknowns.density(), box.lead.density_kg_m3);
  return learnt;
}

std::vector<std::vector<double>> correlation_of(const Matrix& covariance) {
  std::vector<std::vector<double>> result;
  for (Eigen::Index i = 0; i < covariance.rows(); ++i) {
    result.emplace_back();
    for (Eigen::Index j = 0; j < covariance.cols(); ++j)
      result.back().push_back(covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j)));
  }
  return result;
}

std::string name_of(const box::Box& box, const Learnt& learnt) {
  if (learnt.key == "comb.root_yield")
    return "the root yield of " + box::comb_words(box.combs[learnt.comb].name);
  return learnt.key == "steel.modulus" ? "the steel's modulus" : "the weights' density";
}

// What pitch alone leaves open.
void find_unknown(const box::Box& box, Lesson& lesson) {
  constexpr double hardly_better = 0.8;
  constexpr double tied = 0.9;
  for (const Learnt& learnt : lesson.learnt) {
    if (learnt.spread < hardly_better * learnt.before_spread) continue;
    lesson.findings.push_back(
        {Level::note, learnt.key,
         fmt::format("the readings tell little of {}", name_of(box, learnt)),
         "it stays near what the box said; measure it by other means if it matters"});
  }
  for (std::size_t i = 0; i < lesson.learnt.size(); ++i) {
    for (std::size_t j = i + 1; j < lesson.learnt.size(); ++j) {
      if (std::abs(lesson.correlation[i][j]) < tied) continue;
      lesson.findings.push_back(
          {Level::note, lesson.learnt[i].key,
           fmt::format("pitch hardly tells {} from {} (correlation {:.2f})",
                       name_of(box, lesson.learnt[i]), name_of(box, lesson.learnt[j]),
                       lesson.correlation[i][j]),
           "take both new values or neither: only together are they right"});
    }
  }
}

void find_far_off(const box::Box& box, const std::vector<CombDesign>& designs, Lesson& lesson) {
  for (const LearntTooth& tooth : lesson.teeth) {
    if (std::abs(tooth.left_cents) <
        far_off * std::hypot(lesson.scatter_cents, reading_cents(tooth.reading)))
      continue;
    lesson.findings.push_back(
        {Level::warning,
         fmt::format("{}, track {}", box::comb_words(box.combs[tooth.reading.comb].name),
                     tooth_of(designs, tooth.reading).track),
         fmt::format("its pitch is {:.1f} cents {} than those of the other teeth let expect",
                     std::abs(tooth.left_cents), tooth.left_cents > 0.0 ? "higher" : "lower"),
         "pluck it again; look at its thickness, its weight and the track of the reading"});
  }
}

}  // namespace

Lesson learn(const box::Box& box, const std::vector<CombDesign>& designs,
             const std::vector<PitchReading>& readings) {
  assert(!readings.empty() && designs.size() == box.combs.size());
  const Unknowns unknowns = unknowns_of(box);
  const Fit fit = fitted(designs, readings, unknowns);
  Lesson lesson{.learnt = in_units(box, unknowns, fit),
                .correlation = correlation_of(fit.covariance),
                .scatter_cents = fit.scatter_cents,
                .before = cut_spread(box, designs),
                .after = spread_by(designs, unknowns, fit.at, fit.covariance, fit.scatter_cents)};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const PitchReading& reading = readings[i];
    const double expected =
        pitch_hz(tooth_of(designs, reading), reading.comb, unknowns, unknowns.before);
    const auto place = static_cast<Eigen::Index>(i);
    lesson.teeth.push_back({reading, expected, music::cents(reading.frequency_hz / expected),
                            fit.left_cents[place], fit.weight[place]});
  }
  find_far_off(box, designs, lesson);
  for (Finding& finding : margin_findings(box, lesson.after))
    lesson.findings.push_back(std::move(finding));
  find_unknown(box, lesson);
  return lesson;
}

std::vector<CutSpread> cut_spread(const box::Box& box, const std::vector<CombDesign>& designs) {
  const Unknowns unknowns = unknowns_of(box);
  return spread_by(designs, unknowns, unknowns.before, prior_weight(unknowns).inverse(),
                   usual_scatter_cents);
}

Findings margin_findings(const box::Box& box, const std::vector<CutSpread>& spreads) {
  assert(spreads.size() == box.combs.size());
  Findings findings;
  for (std::size_t i = 0; i < box.combs.size(); ++i) {
    const box::Comb& comb = box.combs[i];
    const double flat = 0.5 * (comb.least_flat_cents + comb.most_flat_cents);
    const double spread = spreads[i].within_95_cents();
    if (spread < flat) continue;
    findings.push_back(
        {Level::warning, box::comb_words(comb.name),
         fmt::format("it is cut {:.3g} cents flat, but its pitch is known to {:.3g} cents only "
                     "(95 %): some teeth may come off the saw sharp",
                     flat, spread),
         fmt::format("raise comb.least_flat and comb.most_flat by {:.0f} cents, or cut a few teeth "
                     "first and learn from them (comb --learn)",
                     std::ceil(spread - flat))});
  }
  return findings;
}

}  // namespace combwright::steel
