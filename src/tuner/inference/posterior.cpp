// SPDX-License-Identifier: Apache-2.0
#include "tuner/inference/posterior.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Cholesky>

#include "base/angle.h"
#include "tuner/normal.h"

namespace combwright::tuner {
namespace {

// The unknowns, each in standard deviations before the readings: steel, weight, the biases of the
// three works, what all readings are off by, then the own error of every cut.
constexpr Eigen::Index steel_at = 0;
constexpr Eigen::Index weight_at = 1;
constexpr Eigen::Index first_bias = 2;
constexpr Eigen::Index common_at = 5;
constexpr Eigen::Index first_cut = 6;

Eigen::Index bias_at(Work work) {
  return first_bias + static_cast<Eigen::Index>(work);
}

// Steps of differences, far above the rounding of a pitch.
constexpr double weight_step = 1e-3;
constexpr double clip_step_m = 2e-5;
constexpr double file_step_m = 1e-6;

double step_m(Work work) {
  return work == Work::clip ? clip_step_m : file_step_m;
}

}  // namespace

const Habit& Posterior::habit(Work work) const {
  return work == Work::clip ? prior_.clips : prior_.files;
}

double Posterior::amount_m(const Vector& at, std::size_t cut) const {
  const auto& [reading, work, told_m] = cuts_[cut];
  const Habit& hand = habit(work);
  const double error = hand.bias + hand.bias_spread * at[bias_at(work)] +
                       hand.scatter * at[first_cut + static_cast<Eigen::Index>(cut)];
  // No hand is off by more than that; a mistyped length must not overflow.
  return told_m * std::exp(std::clamp(error, -5.0, 5.0));
}

double Posterior::log_weight_at(const Vector& at) const {
  const double own = std::sqrt(1.0 - prior_.correlation * prior_.correlation);
  return std::clamp(prior_.weight * (prior_.correlation * at[steel_at] + own * at[weight_at]), -1.0,
                    1.0);
}

std::vector<TakenOff> Posterior::taken_off(const Vector& at) const {
  std::vector<TakenOff> result(readings_.size());
  std::size_t cut = 0;
  TakenOff sum;
  for (std::size_t i = 0; i < readings_.size(); ++i) {
    for (; cut < cuts_.size() && cuts_[cut].reading == i; ++cut)
      part(sum, cuts_[cut].work) += amount_m(at, cut);
    result[i] = sum;
  }
  return result;
}

Posterior::Slopes Posterior::slopes(const TakenOff& off, double log_weight) const {
  Slopes slopes{.cents = pitch_cents(tooth_, off, log_weight)};
  if (prior_.weight > 0.0) {
    slopes.weight = (pitch_cents(tooth_, off, log_weight + weight_step) -
                     pitch_cents(tooth_, off, log_weight - weight_step)) /
                    (2.0 * weight_step);
  }
  for (const Work work : works) {
    if (part(off, work) == 0.0) continue;
    TakenOff less = off;
    TakenOff more = off;
    part(less, work) = std::max(0.0, part(less, work) - step_m(work));
    part(more, work) += step_m(work);
    part(slopes.off, work) =
        (pitch_cents(tooth_, more, log_weight) - pitch_cents(tooth_, less, log_weight)) /
        (part(more, work) - part(less, work));
  }
  return slopes;
}

Vector Posterior::row(const Slopes& slopes, const Vector& at, std::size_t cuts) const {
  Vector row = Vector::Zero(at.size());
  row[steel_at] = prior_.steel_cents + slopes.weight * prior_.weight * prior_.correlation;
  row[weight_at] =
      slopes.weight * prior_.weight * std::sqrt(1.0 - prior_.correlation * prior_.correlation);
  for (std::size_t i = 0; i < cuts; ++i) {
    const Work work = cuts_[i].work;
    const double cents = part(slopes.off, work) * amount_m(at, i);
    row[bias_at(work)] += cents * habit(work).bias_spread;
    row[first_cut + static_cast<Eigen::Index>(i)] = cents * habit(work).scatter;
  }
  return row;
}

double Posterior::misfit_of(const Vector& at) const {
  const std::vector<TakenOff> off = taken_off(at);
  double sum = at.squaredNorm();
  for (std::size_t i = 0; i < readings_.size(); ++i) {
    const double expected =
        prior_.steel_cents * at[steel_at] + pitch_cents(tooth_, off[i], log_weight_at(at));
    const double left =
        (readings_[i].cents - expected - readings_[i].common_cents * at[common_at]) /
        readings_[i].spread_cents;
    sum += left * left;
  }
  return sum;
}

Posterior::Posterior(const steel::CombTooth& tooth, const Prior& prior,
                     const std::vector<Heard>& readings)
    : tooth_(tooth), prior_(prior), readings_(readings) {
  assert(!readings.empty());
  for (std::size_t i = 0; i < readings.size(); ++i) {
    for (const Work work : works)
      if (const double told = part(readings[i].since, work); told > 0.0 && most(tooth, work) > 0.0)
        cuts_.push_back({i, work, told});
  }
  const Eigen::Index size = first_cut + static_cast<Eigen::Index>(cuts_.size());
  at_ = Vector::Zero(size);
  misfit_ = misfit_of(at_);
  constexpr int most_rounds = 40;
  constexpr double settled = 1e-7;
  for (int round = 0; round < most_rounds; ++round) {
    const std::vector<TakenOff> off = taken_off(at_);
    const double log_weight = log_weight_at(at_);
    Matrix normal_matrix = Matrix::Identity(size, size);
    Vector pull = -at_;
    left_.clear();
    std::size_t cut = 0;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      while (cut < cuts_.size() && cuts_[cut].reading <= i) ++cut;
      // A reading with nothing done before it has the slopes of the one before.
      if (i == 0 || !readings_[i].since.nothing()) now_ = slopes(off[i], log_weight);
      row_ = row(now_, at_, cut);
      const double weight = 1.0 / readings_[i].spread_cents;
      left_.push_back((readings_[i].cents - now_.cents - prior_.steel_cents * at_[steel_at] -
                       readings_[i].common_cents * at_[common_at]) *
                      weight);
      Vector heard = row_;
      heard[common_at] = readings_[i].common_cents;
      normal_matrix += weight * weight * heard * heard.transpose();
      pull += weight * left_.back() * heard;
    }
    off_ = off.back();
    const Eigen::LLT<Matrix> solver(normal_matrix);
    covariance_ = solver.solve(Matrix::Identity(size, size));
    const Vector step = solver.solve(pull);
    if (step.norm() < settled) break;
    double share = 1.0;
    double misfit = misfit_of(at_ + step);
    while (!(misfit <= misfit_) && share > 1e-4) {
      share *= 0.5;
      misfit = misfit_of(at_ + share * step);
    }
    if (!(misfit < misfit_)) break;
    at_ += share * step;
    misfit_ = misfit;
  }
}

Known Posterior::offset_cents() const {
  return {prior_.steel_cents * at_[steel_at] + now_.cents,
          std::sqrt(std::max(0.0, row_.dot(covariance_ * row_)))};
}

Known Posterior::log_weight() const {
  const double own = std::sqrt(1.0 - prior_.correlation * prior_.correlation);
  Vector row = Vector::Zero(at_.size());
  row[steel_at] = prior_.weight * prior_.correlation;
  row[weight_at] = prior_.weight * own;
  return {row.dot(at_), std::sqrt(row.dot(covariance_ * row))};
}

Known Posterior::bias(Work work) const {
  const Habit& hand = habit(work);
  const Eigen::Index i = bias_at(work);
  return {hand.bias + hand.bias_spread * at_[i], hand.bias_spread * std::sqrt(covariance_(i, i))};
}

std::vector<double> Posterior::cut_errors() const {
  std::vector<double> result;
  for (Eigen::Index i = first_cut; i < at_.size(); ++i) result.push_back(at_[i]);
  return result;
}

Prediction Posterior::predict(Work work, double amount_m) const {
  const Habit& hand = habit(work);
  const double told = amount_m * std::exp(bias(work).value);
  TakenOff after = off_;
  part(after, work) += told;
  const Slopes then = slopes(after, log_weight_at(at_));
  Prediction next{.change_cents = then.cents - now_.cents};
  if (next.change_cents == 0.0) return next;
  // The change's slopes over what is known so far, and over this cut's own error.
  Vector change = row(then, at_, cuts_.size()) - row_;
  const double by_cut = part(then.off, work) * told;
  change[bias_at(work)] += by_cut * hand.bias_spread;
  const double size = std::abs(next.change_cents);
  const Vector spread = covariance_ * change;
  next.log_common = std::sqrt(std::max(0.0, change.dot(spread))) / size;
  next.log_spread = std::hypot(next.log_common, by_cut * hand.scatter / size);
  const double now = offset_cents().spread;
  if (now > 0.0 && next.log_spread > 0.0)
    next.correlation =
        std::clamp(row_.dot(spread) / (next.change_cents * now * next.log_spread), -0.999, 0.999);
  return next;
}

double Posterior::chance_above(double cents, const Prediction& next) const {
  const Known now = offset_cents();
  const double own = next.log_spread * std::sqrt(1.0 - next.correlation * next.correlation);
  // The trapezoidal rule, in steps that are narrow beside the step that the chance may be.
  constexpr double widest = 6.0;
  constexpr int steps = 240;
  constexpr double width = 2.0 * widest / steps;
  double chance = 0.0;
  for (int i = 0; i <= steps; ++i) {
    const double z = -widest + width * i;
    const double weight = width * std::exp(-0.5 * z * z) / std::sqrt(two_pi);
    const double room = cents - now.value - now.spread * z;
    const double median =
        std::log(std::abs(next.change_cents)) + next.correlation * next.log_spread * z;
    if (next.change_cents > 0.0)
      chance += weight * (room <= 0.0 ? 1.0 : normal((median - std::log(room)) / own));
    else
      chance += weight * (room >= 0.0 ? 0.0 : normal((std::log(-room) - median) / own));
  }
  return std::min(1.0, chance);
}

}  // namespace combwright::tuner
