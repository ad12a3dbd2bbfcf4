// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include <Eigen/Core>

#include "steel/comb.h"
#include "tuner/prior.h"
#include "tuner/reading.h"
#include "tuner/tune.h"
#include "tuner/worked.h"

namespace combwright::tuner {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

// What the next work does to the pitch: the natural logarithm of the change is normal.
struct Prediction {
  double change_cents = 0.0;  // median; negative for filing the root
  double log_spread = 0.0;    // one standard deviation, all that is not known
  double log_common = 0.0;    // the same without the scatter of this cut, which no reading lessens
  double correlation = 0.0;   // between the offset now and that logarithm
};

// A tooth as known by its prior and its readings: the likeliest values of steel, weight, the hand's
// biases and every cut's own error, and their covariance (Gauss-Newton on the beam's exact pitch;
// Laplace's approximation). docs/tuning.md has the formulas.
class Posterior {
 public:
  // `readings` in cents above the target, at least one; all of them may be off together by
  // `shared_cents` (one standard deviation), besides each one's own spread.
  struct Heard {
    double cents = 0.0;
    double spread_cents = 0.0;
    TakenOff since;
  };

  Posterior(const steel::CombTooth& tooth, const Prior& prior, const std::vector<Heard>& readings,
            double shared_cents = 0.0);

  Known offset_cents() const;  // of its true pitch now, above the target
  Known log_weight() const;
  Known bias(Work work) const;
  const TakenOff& off() const { return off_; }  // the likeliest

  // What is left of the readings, in their spreads.
  const std::vector<double>& left() const { return left_; }
  // Each cut's own error in its scatters, in the order of the readings.
  std::vector<double> cut_errors() const;
  // Minus twice the logarithm of the posterior's peak, but for constants.
  double misfit() const { return misfit_; }

  Prediction predict(Work work, double amount_m) const;

  // Chance that the tooth is sharper than this after that work.
  double chance_above(double cents, const Prediction& next) const;

 private:
  struct Cut {
    std::size_t reading;
    Work work;
    double told_m;
  };
  // Pitch for the design's steel, and what it does for a unit of each.
  struct Slopes {
    double cents = 0.0;
    double weight = 0.0;
    TakenOff off;
  };

  double amount_m(const Vector& at, std::size_t cut) const;
  double log_weight_at(const Vector& at) const;
  std::vector<TakenOff> taken_off(const Vector& at) const;
  Slopes slopes(const TakenOff& off, double log_weight) const;
  // Of the offset over all unknowns, with what the first `cuts` took off.
  Vector row(const Slopes& slopes, const Vector& at, std::size_t cuts) const;
  double misfit_of(const Vector& at) const;
  const Habit& habit(Work work) const;

  const steel::CombTooth& tooth_;
  Prior prior_;
  std::vector<Heard> readings_;
  double shared_cents_ = 0.0;
  std::vector<Cut> cuts_;
  Vector at_;
  Matrix covariance_;
  TakenOff off_;
  Slopes now_;
  Vector row_;
  std::vector<double> left_;
  double misfit_ = 0.0;
};

}  // namespace combwright::tuner
