// SPDX-License-Identifier: Apache-2.0
#include "tuner/inference/posterior.h"

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "music/pitch.h"
#include "steel/modes.h"
#include "tuner/simulated_tooth.h"

namespace combwright::tuner {
namespace {

double density(double x, double mean, double spread) {
  const double z = (x - mean) / spread;
  return std::exp(-0.5 * z * z) / (spread * std::sqrt(2.0 * std::numbers::pi));
}

// What importance sampling of the full model says: modulus, root, thickness and weight of a tooth,
// hand and every cut drawn in turn near what the next reading asks for, each weighed by its prior,
// its likelihood, and what it was drawn from (sequential importance sampling; Liu and Chen, J. Am.
// Stat. Assoc. 93, 1998, from memory).
class Sampler {
 public:
  Sampler(const simulation::Workshop& shop, const steel::CombTooth& tooth, const Prior& prior)
      : shop_(shop), tooth_(tooth), prior_(prior) {}

  struct Moments {
    double weights = 0.0, squares = 0.0;
    double offset = 0.0, offset_square = 0.0;
    double log_change = 0.0, log_change_square = 0.0;
    double sharp = 0.0, predictions = 0.0;
  };

  Moments sample(const std::vector<Posterior::Heard>& heard, double next_m, double tolerance,
                 int count) {
    Moments sum;
    for (int i = 0; i < count; ++i) one(heard, next_m, tolerance, sum);
    return sum;
  }

 private:
  double normal() { return normal_(random_); }

  double pitch(const TakenOff& off) const {
    return music::cents(steel::first_mode_hz(worked(drawn_, off)) / tooth_.target_hz);
  }

  void draw_tooth(double log_modulus, double yield, double thicker, double log_weight) {
    drawn_ = tooth_;
    steel::Tooth& steel = drawn_.as_cut;
    steel.steel.modulus_pa *= std::exp(log_modulus);
    for (steel::Section& section : steel.sections) {
      section.root_thickness_m *= thicker;
      section.tip_thickness_m *= thicker;
    }
    const steel::Section& root = steel.sections.front();
    steel.root = steel::yielding_root(steel.steel.modulus_pa, root.root_width_m,
                                      root.root_thickness_m, yield);
    for (steel::Lead& lead : steel.leads) lead.mass_kg *= std::exp(log_weight);
  }

  void one(const std::vector<Posterior::Heard>& heard, double next_m, double tolerance,
           Moments& sum) {
    const double spread = shop_.box.steel.modulus_spread;
    const double yield = std::max(
        0.0, shop_.box.combs[0].root_yield + shop_.box.combs[0].root_yield_spread * normal());
    const double thicker = std::exp2(shop_.box.learnt.scatter_cents * normal() / 1200.0);
    const double log_weight = prior_.weight * normal();
    const double bias = prior_.clips.bias_spread * normal();

    draw_tooth(0.0, yield, thicker, log_weight);
    const double cents_per_log = 600.0 / std::numbers::ln2;
    const double first = heard.front().spread_cents;
    const double wanted = (heard.front().cents - pitch({})) / cents_per_log;
    const double wide = 2.0 * first / cents_per_log;
    const double log_modulus = wanted + wide * normal();
    draw_tooth(log_modulus, yield, thicker, log_weight);
    TakenOff off;
    double now = pitch(off);
    double weight = density(log_modulus, 0.0, spread) / density(log_modulus, wanted, wide) *
                    density(heard.front().cents, now, first);

    for (std::size_t i = 1; i < heard.size(); ++i) {
      const double told = heard[i].since.clip_m;
      double needed = told;
      double slope = 0.0;
      for (int newton = 0; newton < 3; ++newton) {
        const double there = pitch({.clip_m = off.clip_m + needed});
        slope = (pitch({.clip_m = off.clip_m + needed + 1e-5}) - there) / 1e-5;
        needed = std::max(0.2 * told, needed + (heard[i].cents - there) / slope);
      }
      const double error = std::log(needed / told) - bias;
      const double near = 2.0 * heard[i].spread_cents / (slope * needed);
      const double own = error + near * normal();
      off.clip_m += told * std::exp(bias + own);
      now = pitch(off);
      weight *= density(own, 0.0, prior_.clips.scatter) / density(own, error, near) *
                density(heard[i].cents, now, heard[i].spread_cents);
    }

    sum.weights += weight;
    sum.squares += weight * weight;
    sum.offset += weight * now;
    sum.offset_square += weight * now * now;
    for (int k = 0; k < 4; ++k) {
      const double cut = next_m * std::exp(bias + prior_.clips.scatter * normal());
      const double after = pitch({.clip_m = off.clip_m + cut});
      const double log_change = std::log(after - now);
      sum.predictions += weight;
      sum.log_change += weight * log_change;
      sum.log_change_square += weight * log_change * log_change;
      if (after > tolerance) sum.sharp += weight;
    }
  }

  const simulation::Workshop& shop_;
  const steel::CombTooth& tooth_;
  const Prior& prior_;
  steel::CombTooth drawn_;
  std::mt19937_64 random_{11};
  std::normal_distribution<double> normal_;
};

double spread(double sum, double squares, double weights) {
  const double mean = sum / weights;
  return std::sqrt(squares / weights - mean * mean);
}

void compare(const simulation::Workshop& shop, std::size_t place,
             const std::vector<Posterior::Heard>& heard) {
  const steel::CombTooth& tooth = shop.designs[0].teeth[place];
  const Prior before = prior(shop.box, shop.shop, 0, tooth);
  const Posterior known(tooth, before, heard);
  const double tolerance = 2.0;
  // The cut that ends sharp with a chance of about 2 %.
  double next = 1e-5;
  while (known.chance_above(tolerance, known.predict(Work::clip, next)) < 0.02) next *= 1.01;
  const Prediction predicted = known.predict(Work::clip, next);
  const double sharp = known.chance_above(tolerance, predicted);

  Sampler sampler(shop, tooth, before);
  const Sampler::Moments sum = sampler.sample(heard, next, tolerance, 6'000);
  EXPECT_GT(sum.weights * sum.weights / sum.squares, 1'000.0);  // samples' worth
  const double offset = sum.offset / sum.weights;
  const double offset_spread = spread(sum.offset, sum.offset_square, sum.weights);
  EXPECT_NEAR(known.offset_cents().value, offset, 0.1 * offset_spread);
  EXPECT_NEAR(known.offset_cents().spread, offset_spread, 0.05 * offset_spread);
  const double log_change = sum.log_change / sum.predictions;
  const double log_spread = spread(sum.log_change, sum.log_change_square, sum.predictions);
  EXPECT_NEAR(std::log(predicted.change_cents), log_change, 0.1 * log_spread);
  EXPECT_NEAR(predicted.log_spread, log_spread, 0.05 * log_spread);
  EXPECT_NEAR(sharp, sum.sharp / sum.predictions, 0.25 * sharp);
}

TEST(Posterior, AgreesWithImportanceSamplingOfTheFullModel) {
  simulation::Workshop shop = simulation::bramble();
  simulation::tell(shop, {});
  compare(shop, 1, {{-80.0, 0.15, {}}});
  compare(shop, 1, {{-80.0, 0.15, {}}, {-20.0, 0.15, {.clip_m = 7e-4}}});
  compare(shop, 11,
          {{-50.0, 0.3, {}}, {-22.0, 0.3, {.clip_m = 6e-4}}, {-6.0, 0.3, {.clip_m = 3e-4}}});
}

TEST(Posterior, LearnsAHandAsTheTextbookDoes) {
  // With weight and pitches known, the logarithms of taken to told are readings of the hand's bias:
  // a normal mean with known variance (Gelman et al., Bayesian Data Analysis, section 2.5).
  simulation::Workshop shop = simulation::bramble();
  const steel::CombTooth& tooth = shop.designs[0].teeth[3];
  const Prior before{.steel_cents = 1e-3,
                     .weight = 1e-6,
                     .clips = {.bias_spread = 0.1, .scatter = 0.08},
                     .files = {.scatter = 0.2}};
  const std::vector<double> errors{0.05, 0.12, -0.02, 0.09};
  const double told = 2e-4;
  TakenOff off;
  std::vector<Posterior::Heard> heard{{pitch_cents(tooth, off), 1e-3, {}}};
  double sum = 0.0;
  for (const double error : errors) {
    off.clip_m += told * std::exp(error);
    heard.push_back({pitch_cents(tooth, off), 1e-3, {.clip_m = told}});
    sum += error;
  }
  const double precision = 1.0 / (0.1 * 0.1) + 4.0 / (0.08 * 0.08);
  const Posterior known(tooth, before, heard);
  EXPECT_NEAR(known.bias(Work::clip).value, sum / (0.08 * 0.08) / precision, 1e-4);
  EXPECT_NEAR(known.bias(Work::clip).spread, std::sqrt(1.0 / precision), 1e-4);
  EXPECT_NEAR(known.off().clip_m, off.clip_m, 1e-8);
}

TEST(Posterior, TheChanceOfGoingSharpIsThatOfAFineQuadrature) {
  // P(offset + change > tolerance), change log-normal and independent of the offset: a sum over the
  // offset in 400,000 steps by NumPy.
  simulation::Workshop shop = simulation::bramble();
  const steel::CombTooth& tooth = shop.designs[0].teeth[3];
  const Prior before = prior(shop.box, shop.shop, 0, tooth);
  struct Case {
    double offset, spread, change, log_spread, above, chance;
  };
  for (const Case& one :
       {Case{-0.8, 0.43, 0.001, 0.1, 0.5, 0.00126}, Case{-0.8, 0.43, 0.3, 0.1, 0.5, 0.01027},
        Case{-4, 1.5, 2, 0.1, 2, 0.0042}}) {
    const Posterior known(tooth, before, {{one.offset, 1e-3, {}}}, one.spread);
    const Prediction next{.change_cents = one.change, .log_spread = one.log_spread};
    EXPECT_NEAR(known.chance_above(one.above, next), one.chance, 0.02 * one.chance);
  }
}

TEST(Posterior, AManyTimesReadToothIsKnownByTheMeanOfItsReadings) {
  simulation::Workshop shop = simulation::bramble();
  const steel::CombTooth& tooth = shop.designs[0].teeth[3];
  const Prior before = prior(shop.box, shop.shop, 0, tooth);
  const Posterior known(tooth, before,
                        {{-30.2, 0.2, {}}, {-30.0, 0.2, {}}, {-29.9, 0.2, {}}, {-29.9, 0.2, {}}});
  EXPECT_NEAR(known.offset_cents().value, -30.0, 0.01);
  EXPECT_NEAR(known.offset_cents().spread, 0.1, 0.001);
}

}  // namespace
}  // namespace combwright::tuner
