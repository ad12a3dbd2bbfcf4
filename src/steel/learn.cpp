// SPDX-License-Identifier: Apache-2.0
#include "steel/learn.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "music/pitch.h"
#include "steel/learning/robust_fit.h"
#include "steel/learning/unknowns.h"

namespace combwright::steel {
namespace {

constexpr double far_off = 3.0;  // in scatters

const CombTooth& tooth_of(const std::vector<CombDesign>& designs, const PitchReading& reading) {
  return designs[reading.comb].teeth[reading.tooth];
}

double reading_cents(const PitchReading& reading) {
  return music::cents(1.0 + reading.stderr_hz / reading.frequency_hz);
}

// The least or greatest share of each unknown: a root yields by 0 to 1 of its thickness.
Vector bound(const Unknowns& unknowns, double yield, double without) {
  Vector result = Vector::Constant(unknowns.size(), without);
  for (Eigen::Index i = 0; i < unknowns.modulus(); ++i)
    if (unknowns.spread[i] > 0.0) result[i] = (yield - unknowns.before[i]) / unknowns.spread[i];
  return result;
}

// The readings as straight lines through what they are where the unknowns have these shares.
LinearReadings linear_at(const box::Box& box, const std::vector<CombDesign>& designs,
                         const std::vector<PitchReading>& readings, const Unknowns& unknowns,
                         const Vector& share) {
  constexpr double unbounded = std::numeric_limits<double>::infinity();
  const auto count = static_cast<Eigen::Index>(readings.size());
  LinearReadings lines{.slope = Matrix(count, unknowns.size()),
                       .value = Vector(count),
                       .error = Vector(count),
                       .correlation = unknowns.correlation,
                       .least = bound(unknowns, 0.0, -unbounded),
                       .greatest = bound(unknowns, 1.0, unbounded),
                       .scatter = box.learnt.scatter_cents};
  const Vector at = unknowns.at(share);
  for (Eigen::Index i = 0; i < count; ++i) {
    const PitchReading& reading = readings[static_cast<std::size_t>(i)];
    const CombTooth& tooth = tooth_of(designs, reading);
    const Vector slope = slopes_cents(tooth, reading.comb, unknowns, at);
    const double left =
        music::cents(reading.frequency_hz / pitch_hz(tooth, reading.comb, unknowns, at));
    lines.slope.row(i) = slope;
    lines.value[i] = left + slope.dot(share);
    lines.error[i] = reading_cents(reading);
  }
  return lines;
}

RobustFit fitted(const box::Box& box, const std::vector<CombDesign>& designs,
                 const std::vector<PitchReading>& readings, const Unknowns& unknowns) {
  constexpr int most_rounds = 30;
  constexpr double settled = 1e-8;
  RobustFit fit{.at = Vector::Zero(unknowns.size()), .scatter = box.learnt.scatter_cents};
  for (int round = 0; round < most_rounds; ++round) {
    RobustFit better = robust_fit(linear_at(box, designs, readings, unknowns, fit.at));
    const double step = (better.at - fit.at).cwiseAbs().maxCoeff();
    const double change = std::abs(better.scatter - fit.scatter);
    fit = std::move(better);
    if (step < settled && change < settled * fit.scatter) break;
  }
  return fit;
}

std::vector<LearntValue> in_units(const box::Box& box, const Unknowns& unknowns,
                                  const RobustFit& fit) {
  std::vector<LearntValue> learnt;
  const Vector at = unknowns.at(fit.at);
  const auto spread = [&](Eigen::Index i) {
    return unknowns.spread[i] * std::sqrt(fit.covariance(i, i));
  };
  for (std::size_t comb = 0; comb < unknowns.combs; ++comb) {
    const auto i = static_cast<Eigen::Index>(comb);
    learnt.push_back(
        {Unknown::root_yield, comb, unknowns.before[i], unknowns.spread[i], at[i], spread(i)});
  }
  const auto scaled = [&](Unknown unknown, Eigen::Index i, double value) {
    learnt.push_back({unknown, {}, value, unknowns.spread[i], value * std::exp(at[i]), spread(i)});
  };
  scaled(Unknown::modulus, unknowns.modulus(), box.steel.modulus_pa);
  scaled(Unknown::density, unknowns.density(), box.lead.density_kg_m3);
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

std::string name_of(const box::Box& box, const LearntValue& learnt) {
  switch (learnt.unknown) {
    case Unknown::root_yield:
      return "the root yield of " + box::comb_words(box.combs[*learnt.comb].name);
    case Unknown::modulus:
      return "the steel's modulus";
    case Unknown::density:
      return "the weights' density";
  }
  return {};
}

// Whether the pitch of any tooth depends on it, and the box leaves it open.
bool in_question(const std::vector<CombDesign>& designs, const LearntValue& learnt) {
  if (learnt.before_spread == 0.0) return false;
  if (learnt.unknown != Unknown::density) return true;
  return any_leaded(designs);
}

// What pitch alone leaves open.
void find_unknown(const box::Box& box, const std::vector<CombDesign>& designs, Lesson& lesson) {
  constexpr double hardly_better = 0.8;
  constexpr double tied = 0.9;
  const std::vector<LearntValue>& learnt = lesson.learnt;
  for (const LearntValue& one : learnt) {
    if (!in_question(designs, one) || one.spread < hardly_better * one.before_spread) continue;
    lesson.findings.push_back(
        {Level::note, std::string(key_of(one.unknown)),
         fmt::format("the readings tell little of {}", name_of(box, one)),
         "it stays near what the box said; measure it by other means if it matters"});
  }
  for (std::size_t i = 0; i < learnt.size(); ++i) {
    for (std::size_t j = i + 1; j < learnt.size(); ++j) {
      if (std::abs(lesson.correlation[i][j]) < tied || !in_question(designs, learnt[i]) ||
          !in_question(designs, learnt[j]))
        continue;
      lesson.findings.push_back(
          {Level::note, std::string(key_of(learnt[i].unknown)),
           fmt::format("pitch hardly tells {} from {} (correlation {:.2f})",
                       name_of(box, learnt[i]), name_of(box, learnt[j]), lesson.correlation[i][j]),
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

std::string_view key_of(Unknown unknown) {
  switch (unknown) {
    case Unknown::root_yield:
      return "comb.root_yield";
    case Unknown::modulus:
      return "steel.modulus";
    case Unknown::density:
      return "lead.density";
  }
  return {};
}

Lesson learn(const box::Box& box, const std::vector<CombDesign>& designs,
             const std::vector<PitchReading>& readings) {
  assert(!readings.empty() && designs.size() == box.combs.size());
  const Unknowns unknowns = unknowns_of(box);
  const RobustFit fit = fitted(box, designs, readings, unknowns);
  Lesson lesson{.learnt = in_units(box, unknowns, fit),
                .correlation = correlation_of(fit.covariance),
                .scatter_cents = fit.scatter};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const PitchReading& reading = readings[i];
    const double expected =
        pitch_hz(tooth_of(designs, reading), reading.comb, unknowns, unknowns.before);
    const auto place = static_cast<Eigen::Index>(i);
    lesson.teeth.push_back({reading, expected, music::cents(reading.frequency_hz / expected),
                            fit.left[place], fit.weight[place]});
  }
  find_far_off(box, designs, lesson);
  find_unknown(box, designs, lesson);
  return lesson;
}

box::Box taught(box::Box box, const Lesson& lesson) {
  for (const LearntValue& learnt : lesson.learnt) {
    switch (learnt.unknown) {
      case Unknown::root_yield:
        box.combs[*learnt.comb].root_yield = learnt.value;
        box.combs[*learnt.comb].root_yield_spread = learnt.spread;
        break;
      case Unknown::modulus:
        box.steel.modulus_pa = learnt.value;
        box.steel.modulus_spread = learnt.spread;
        break;
      case Unknown::density:
        box.lead.density_kg_m3 = learnt.value;
        box.lead.density_spread = learnt.spread;
        break;
    }
  }
  box.learnt = {.scatter_cents = lesson.scatter_cents, .correlation = {}};
  for (std::size_t i = 0; i < lesson.correlation.size(); ++i)
    for (std::size_t j = i + 1; j < lesson.correlation.size(); ++j)
      box.learnt.correlation.push_back(lesson.correlation[i][j]);
  return box;
}

}  // namespace combwright::steel
