// SPDX-License-Identifier: Apache-2.0
#include "tuner/inference/advise.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <boost/math/tools/toms748_solve.hpp>
#include <fmt/format.h>

#include "tuner/filing.h"
#include "tuner/normal.h"
#include "tuner/plan.h"

namespace combwright::tuner {
namespace {

// A caliper shows hundredths of a millimetre; what is longer than ten of them is told in them.
constexpr double caliper_m = 1e-5;
// A tooth that is inside the tolerance with this chance is left alone.
constexpr double sure = 0.998;

// Least amount from 0 to `most_m` at which an increasing function is 0 or more; `most_m` if
// nowhere.
template <class Function>
double first_at(const Function& function, double most_m) {
  const double at_most = function(most_m);
  if (!(at_most > 0.0)) return most_m;
  const double least = 1e-4 * most_m;
  const double at_least = function(least);
  if (at_least >= 0.0) return least;
  std::uintmax_t steps = 40;
  const auto [a, b] =
      boost::math::tools::toms748_solve(function, least, most_m, at_least, at_most,
                                        boost::math::tools::eps_tolerance<double>(16), steps);
  return a;
}

class Adviser {
 public:
  Adviser(const box::Box& box, const steel::CombTooth& tooth, const Posterior& known,
          const Wish& wish, Findings& findings, const std::string& where)
      : box_(box), tooth_(tooth), known_(known), wish_(wish), findings_(findings), where_(where) {}

  Advice advice() const {
    const Known now = known_.offset_cents();
    const double flat_chance = normal((-wish_.tolerance_cents - now.value) / now.spread);
    const double sharp_chance = 1.0 - normal((wish_.tolerance_cents - now.value) / now.spread);
    if (std::abs(now.value) <= wish_.tolerance_cents) {
      if (flat_chance + sharp_chance < 1.0 - sure) return stopped(now, sharp_chance);
      if (now.value < 0.0)
        if (const auto touch = last_touch()) return *touch;
      findings_.push_back({Level::note, where_,
                           fmt::format("it is inside the tolerance, but only {:.2f} cents from "
                                       "its edge, and the reading may be off by {:.2f} cents",
                                       wish_.tolerance_cents - std::abs(now.value), now.spread),
                           "pluck it again without cutting and add the reading"});
      return stopped(now, sharp_chance);
    }
    return now.value > 0.0 ? lower(now) : raise(now);
  }

 private:
  Advice stopped(const Known& now, double sharp_chance) const {
    return {.expect_cents = now.value, .overshoot_probability = sharp_chance};
  }

  // As much as can still come off.
  double left_m(Work work) const {
    const double off = part(known_.off(), work);
    double left = most(tooth_, work) - off;
    if (work != Work::clip) left = std::min(left, thickness_m(work) - wish_.thinnest_m - off);
    return std::max(0.0, left);
  }

  // As cut, where it is least of what is filed.
  double thickness_m(Work work) const {
    const Stretch at = stretch(tooth_, work);
    const double outer = steel::thickness_m(tooth_.as_cut, at.to_m);
    return work == Work::file_tip ? outer
                                  : std::min(outer, steel::thickness_m(tooth_.as_cut, at.from_m));
  }

  // By which the told amount has to be more or less than what is to come off.
  double told(Work work, double amount_m) const {
    return amount_m * std::exp(-known_.bias(work).value);
  }

  // Told so that the median ends at `aim_cents`.
  double to(double aim_cents, Work work) const {
    const double now = known_.offset_cents().value;
    const double sign = aim_cents < now ? -1.0 : 1.0;
    return first_at(
        [&](double amount) {
          return sign * (now + known_.predict(work, amount).change_cents - aim_cents);
        },
        told(work, left_m(work)));
  }

  // Told so that it ends sharp with this chance, or all that is left.
  double with_chance(double chance, Work work) const {
    const double reach = to(2.0 * wish_.tolerance_cents + 1.0, work);
    return first_at(
        [&](double amount) {
          return known_.chance_above(wish_.tolerance_cents, known_.predict(work, amount)) - chance;
        },
        reach);
  }

  double least_m(Work work) const {
    if (work != Work::clip) return 0.0;
    const steel::Lead& lead = tooth_.as_cut.leads.front();
    const double kg_per_m = lead.mass_kg * std::exp(known_.log_weight().value) / lead.length_m;
    return wish_.smallest_clip_kg / kg_per_m;
  }

  Advice work(Work work, double amount_m, double more_cuts) const {
    if (work == Work::clip && amount_m >= 10.0 * caliper_m)
      amount_m = std::max(least_m(work), std::floor(amount_m / caliper_m + 1e-6) * caliper_m);
    const Prediction next = known_.predict(work, amount_m);
    Advice advice{
        .work = work,
        .amount_m = amount_m,
        .mass_kg = mass_kg(tooth_, known_.off(), work, amount_m, known_.log_weight().value),
        .place = stretch(tooth_, work),
        .expect_cents = known_.offset_cents().value + next.change_cents,
        .overshoot_probability = known_.chance_above(wish_.tolerance_cents, next),
        .more_cuts = more_cuts};
    if (work != Work::clip)
      advice.safety_factor = safety_factor(box_, tooth_, off_after(work, amount_m));
    return advice;
  }

  // The likeliest.
  TakenOff off_after(Work work, double told_m) const {
    TakenOff after = known_.off();
    part(after, work) += told_m * std::exp(known_.bias(work).value);
    return after;
  }

  // As far as filing its tip raises it.
  double tip_cents() const {
    const double left = left_m(Work::file_tip);
    if (!(left > 0.0)) return 0.0;
    return std::max(0.0, known_.predict(Work::file_tip, told(Work::file_tip, left)).change_cents);
  }

  // Inside the tolerance, but near its flat edge: to the middle, if that is safe.
  std::optional<Advice> last_touch() const {
    for (const Work kind : {Work::clip, Work::file_tip}) {
      if (!(left_m(kind) > 0.0)) continue;
      const double amount = std::min(to(0.0, kind), with_chance(wish_.risk, kind));
      if (amount < least_m(kind)) continue;
      const Advice touch = work(kind, amount, 1.0);
      if (kind == Work::clip || safe(touch)) return touch;
    }
    return std::nullopt;
  }

  std::optional<Advice> planned(Work kind, const Known& now, double filing_cents) const {
    const double straight = to(0.0, kind);
    const Prediction whole = known_.predict(kind, straight);
    if (!(whole.change_cents > 0.0)) return std::nullopt;
    const double scatter = std::sqrt(
        std::max(1e-6, whole.log_spread * whole.log_spread - whole.log_common * whole.log_common));
    const double least = least_m(kind);
    const double least_cents = least > 0.0 ? known_.predict(kind, least).change_cents : 0.0;
    const auto step = plan({.flat_cents = -now.value,
                            .tolerance_cents = wish_.tolerance_cents,
                            .log_common = whole.log_common,
                            .log_scatter = scatter,
                            .least_cents = least_cents,
                            .filing_cents = filing_cents,
                            .risk = wish_.risk});
    if (!step) return std::nullopt;
    const double amount = with_chance(step->chance, kind);
    if (amount < 0.999 * least) return std::nullopt;
    return work(kind, amount, step->cuts);
  }

  Advice raise(const Known& now) const {
    const double by_filing = tip_cents();
    if (left_m(Work::clip) > 0.0)
      if (const auto clip = planned(Work::clip, now, by_filing)) return *clip;
    if (-now.value < by_filing)
      if (const auto file = planned(Work::file_tip, now, 0.0)) return checked(*file);
    findings_.push_back({Level::fault, where_,
                         fmt::format("it is {:.3g} cents flat, and neither a clip that the nippers "
                                     "can take nor filing its tip down to comb.thinnest brings it "
                                     "into tune",
                                     -now.value),
                         tooth_.leaded() ? "fit a lighter weight" : "cut the tooth anew"});
    return stopped(now, 0.0);
  }

  Advice lower(const Known& now) const {
    const double straight = to(0.0, Work::file_root);
    const Advice file = work(Work::file_root, straight, 1.0);
    if (file.expect_cents > wish_.tolerance_cents) {
      findings_.push_back({Level::fault, where_,
                           fmt::format("it is {:.3g} cents sharp, more than filing its root "
                                       "lowers it",
                                       now.value),
                           tooth_.leaded() ? "fit a heavier weight" : "cut the tooth anew"});
      return stopped(now, 1.0);
    }
    return checked(file);
  }

  // Filing that takes away from a safety factor leaves as much as is asked.
  bool safe(const Advice& file) const {
    return file.safety_factor >= wish_.safety_factor || file.safety_factor >= factor_now();
  }

  double factor_now() const { return safety_factor(box_, tooth_, known_.off()); }

  // Nothing is filed that would break.
  Advice checked(const Advice& file) const {
    if (safe(file)) return file;
    const Known now = known_.offset_cents();
    const bool sharp = now.value > 0.0;
    findings_.push_back({Level::fault, where_,
                         fmt::format("it is {:.3g} cents {} and would have to be filed, but then "
                                     "its safety factor would fall from {:.2f} to {:.2f}; {:.2f} "
                                     "is asked (comb.safety_factor)",
                                     std::abs(now.value), sharp ? "sharp" : "flat", factor_now(),
                                     file.safety_factor, wish_.safety_factor),
                         tooth_.leaded() ? (sharp ? "fit a heavier weight" : "fit a lighter weight")
                                         : "cut the tooth anew"});
    return stopped(now, sharp ? 1.0 : 0.0);
  }

  const box::Box& box_;
  const steel::CombTooth& tooth_;
  const Posterior& known_;
  const Wish& wish_;
  Findings& findings_;
  const std::string& where_;
};

}  // namespace

Wish wish(const box::Shop& shop, const box::Comb& comb) {
  return {.tolerance_cents = shop.tolerance.pitch_cents,
          .smallest_clip_kg = shop.lead.smallest_clip_kg,
          .thinnest_m = comb.thinnest_m,
          .safety_factor = comb.safety_factor};
}

Advice advise(const box::Box& box, const steel::CombTooth& tooth, const Posterior& known,
              const Wish& wish, Findings& findings, const std::string& where) {
  return Adviser(box, tooth, known, wish, findings, where).advice();
}

}  // namespace combwright::tuner
