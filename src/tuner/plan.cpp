// SPDX-License-Identifier: Apache-2.0
#include "tuner/plan.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include <boost/math/special_functions/erf.hpp>

#include "tuner/normal.h"

namespace combwright::tuner {
namespace {

constexpr std::size_t stages = 5;
constexpr std::size_t margins = 12;
constexpr double margin_step = 0.2;  // in spreads
constexpr std::size_t cells = 32;

// The room up to the sharp end of the tolerance is what counts: a cut told as room * exp(-s m), m
// spreads s short of it, leaves room * (1 - exp(s (z - m))). On rooms in geometric series the
// chance to get from one to another depends on their distance alone.
struct Stage {
  double spread = 0.0;
  // For each margin, the chance that a cut ends sharp, and that it leaves a room between those i
  // and i + 1 cells smaller.
  std::array<double, margins> sharp{};
  std::array<std::array<double, cells>, margins> lands{};
};

struct Worth {
  double cuts = 0.0;
  double sharp = 0.0;
  std::size_t margin = 0;
  bool cut = false;  // false: it must be filed
};

class Planner {
 public:
  explicit Planner(const Course& course)
      : course_(course),
        whole_(course.flat_cents + course.tolerance_cents),
        step_(std::log(whole_ / (2.0 * course.tolerance_cents)) / cells) {
    using boost::math::erfc_inv;
    const double least = std::sqrt(2.0) * erfc_inv(2.0 * course.risk);
    for (std::size_t m = 0; m < margins; ++m)
      margin_[m] = least + margin_step * static_cast<double>(m);
    double common = course.log_common * course.log_common;
    const double scatter = course.log_scatter * course.log_scatter;
    for (Stage& stage : stages_) {
      stage = stage_of(std::sqrt(common + scatter));
      common = common * scatter / (common + scatter);
    }
  }

  // Each tooth that ends sharp is worth so many cuts.
  Worth worth(double price) const {
    std::array<Worth, cells + 1> next{};
    for (std::size_t i = 0; i < cells; ++i)
      next[i] = {.cuts = 1.0 + step_ * static_cast<double>(cells - i)};
    for (std::size_t s = stages - 1; s > 0; --s) {
      // At the edge of the tolerance, from outside.
      next[cells] = next[cells - 1];
      std::array<Worth, cells + 1> now{};
      for (std::size_t i = 0; i < cells; ++i) now[i] = best(stages_[s], i, next, price);
      next = now;
    }
    next[cells] = next[cells - 1];
    return best(stages_[0], 0, next, price);
  }

  double margin(std::size_t m) const { return margin_[m]; }

 private:
  Stage stage_of(double spread) const {
    Stage stage{.spread = spread};
    for (std::size_t m = 0; m < margins; ++m) {
      // That less than this share of the room is left.
      const auto below = [&](double share) {
        return 1.0 - normal(margin_[m] + std::log1p(-share) / spread);
      };
      stage.sharp[m] = below(0.0);
      double more = 1.0;
      for (std::size_t i = 0; i < cells; ++i) {
        const double less = below(std::exp(-step_ * static_cast<double>(i + 1)));
        stage.lands[m][i] = more - less;
        more = less;
      }
    }
    return stage;
  }

  Worth best(const Stage& stage, std::size_t at, const std::array<Worth, cells + 1>& next,
             double price) const {
    const double room = whole_ * std::exp(-step_ * static_cast<double>(at));
    const double flat = room - course_.tolerance_cents;
    Worth best{.cuts = flat <= course_.filing_cents ? filing_cuts * (1.0 + flat / filing_step_cents)
                                                    : stuck_cuts};
    for (std::size_t m = 0; m < margins; ++m) {
      if (room * std::exp(-stage.spread * margin_[m]) < course_.least_cents) break;
      Worth found{.cuts = 1.0, .sharp = stage.sharp[m], .margin = m, .cut = true};
      for (std::size_t i = 0; at + i < cells; ++i) {
        const Worth& from = next[at + i];
        const Worth& to = next[at + i + 1];
        found.cuts += 0.5 * stage.lands[m][i] * (from.cuts + to.cuts);
        found.sharp += 0.5 * stage.lands[m][i] * (from.sharp + to.sharp);
      }
      if (found.cuts + price * found.sharp < best.cuts + price * best.sharp) best = found;
    }
    return best;
  }

  Course course_;
  double whole_;
  double step_;
  std::array<double, margins> margin_{};
  std::array<Stage, stages> stages_{};
};

}  // namespace

std::optional<Step> plan(const Course& course) {
  assert(course.flat_cents > course.tolerance_cents && course.risk > 0.0 &&
         course.log_scatter > 0.0);
  const Planner planner(course);
  // The least price, found by halving, with which the risk is kept: a higher one only costs cuts.
  constexpr double dearest = 1e6;
  double low = 0.0;
  double high = 1.0;
  Worth found = planner.worth(high);
  while (found.cut && found.sharp > course.risk && high < dearest) {
    low = high;
    high *= 4.0;
    found = planner.worth(high);
  }
  for (int halving = 0; halving < 5; ++halving) {
    const double middle = 0.5 * (low + high);
    const Worth worth = planner.worth(middle);
    (worth.sharp > course.risk ? low : high) = middle;
    if (worth.sharp <= course.risk) found = worth;
  }
  if (!found.cut) return std::nullopt;
  return Step{normal(-planner.margin(found.margin)), found.cuts};
}

}  // namespace combwright::tuner
