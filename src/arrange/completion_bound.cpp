// SPDX-License-Identifier: Apache-2.0
#include "arrange/completion_bound.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "arrange/rules.h"

namespace combwright::arrange {

CompletionBound::CompletionBound(const PitchClass& pitch_class, std::size_t first, std::size_t last,
                                 double target, int rounds, std::vector<double>& prices)
    : first_(first),
      teeth_(pitch_class.teeth.size()),
      price_(prices.begin() + static_cast<std::ptrdiff_t>(first),
             prices.begin() + static_cast<std::ptrdiff_t>(last)) {
  for (std::size_t k = 0; k < teeth_.size(); ++k) teeth_[k].interval_s = pitch_class.interval_s[k];
  for (std::size_t i = first; i < last; ++i) {
    const ClassNote& note = pitch_class.notes[i];
    double most = 0.0;
    for (std::size_t u = note.first_use; u < note.end_use; ++u) {
      const Use& use = pitch_class.uses[u];
      const double moved = use.own_pitch ? use.moved : 0.0;
      most = std::max({most, use.at_onset, moved});
      teeth_[static_cast<std::size_t>(use.tooth)].prospects.push_back(
          {.onset_s = note.onset_s,
           .at_onset = use.at_onset,
           .moved = moved,
           .note = static_cast<std::uint32_t>(i - first)});
    }
    price_[i - first] = std::min(price_[i - first], most);
  }
  for (Tooth& tooth : teeth_) {
    tooth.begin.resize(tooth.prospects.size());
    tooth.end.resize(tooth.prospects.size());
  }
  improve_prices(target, rounds);
  std::copy(price_.begin(), price_.end(), prices.begin() + static_cast<std::ptrdiff_t>(first));
}

// The steps shrink the slower, the more of them there may be.
void CompletionBound::improve_prices(double target, int rounds) {
  const double decay = 1.0 - 0.5 * std::pow(rounds + 1.0, -0.4);
  whole_ = evaluate();
  std::vector<double> best_price = price_;
  double best = whole_;
  double step_scale = 1.0;
  std::vector<int> least(price_.size());
  std::vector<int> most(price_.size());
  for (int round = 0; round < rounds && best - target > 1e-9 * best; ++round) {
    count_plays(least, most);
    double norm = 0.0;
    const auto slope = [&](std::size_t i) {
      return most[i] < 1 ? 1.0 : least[i] > 1 ? 1.0 - least[i] : 0.0;
    };
    for (std::size_t i = 0; i < price_.size(); ++i)
      if (slope(i) < 0.0 || price_[i] > 0.0) norm += slope(i) * slope(i);
    if (norm == 0.0) break;
    const double step = step_scale * (whole_ - target) / norm;
    for (std::size_t i = 0; i < price_.size(); ++i)
      price_[i] = std::max(0.0, price_[i] - step * slope(i));
    whole_ = evaluate();
    if (whole_ < best) {
      best = whole_;
      best_price = price_;
    } else {
      step_scale *= decay;
    }
  }
  price_ = best_price;
  whole_ = evaluate();
}

double CompletionBound::value_from(const Tooth& tooth, std::size_t prospect, double free_at_s) {
  if (prospect >= tooth.prospects.size()) return 0.0;
  for (std::size_t i = tooth.begin[prospect]; i < tooth.end[prospect]; ++i)
    if (tooth.promises[i].free_by_s >= free_at_s - same_time_s) return tooth.promises[i].value;
  return 0.0;
}

// From the last prospect backwards: leave the prospect out, play it at its onset, or move it; as a
// moved pluck may come at any moment of its range, each later promise allows it until a moment of
// its own.
void CompletionBound::look_ahead(Tooth& tooth) {
  tooth.promises.clear();
  for (std::size_t p = tooth.prospects.size(); p-- > 0;) {
    const Prospect& prospect = tooth.prospects[p];
    const double price = price_[prospect.note];
    const bool last = p + 1 == tooth.prospects.size();
    const std::size_t later = last ? 0 : tooth.begin[p + 1];
    const std::size_t later_end = last ? 0 : tooth.end[p + 1];
    scratch_.assign(tooth.promises.begin() + static_cast<std::ptrdiff_t>(later),
                    tooth.promises.begin() + static_cast<std::ptrdiff_t>(later_end));
    if (prospect.at_onset > price) {
      scratch_.push_back(
          {prospect.onset_s, prospect.at_onset - price +
                                 value_from(tooth, p + 1, prospect.onset_s + tooth.interval_s)});
    }
    if (prospect.moved > 0.0) {
      const double from = prospect.onset_s - move_limit_s;
      const double until = prospect.onset_s + move_limit_s;
      scratch_.push_back({until, prospect.moved - price});
      for (std::size_t i = later; i < later_end; ++i) {
        const Promise& next = tooth.promises[i];
        const double latest = std::min(until, next.free_by_s - tooth.interval_s);
        if (latest >= from - same_time_s)
          scratch_.push_back({latest, prospect.moved - price + next.value});
      }
    }
    std::sort(scratch_.begin(), scratch_.end(), [](const Promise& a, const Promise& b) {
      return a.free_by_s != b.free_by_s ? a.free_by_s > b.free_by_s : a.value > b.value;
    });
    // Keep what earns more than all that may start later; a pluck before this prospect leaves the
    // tooth free by `horizon` at the latest.
    const double horizon = p == 0
                               ? prospect.onset_s
                               : tooth.prospects[p - 1].onset_s + move_limit_s + tooth.interval_s;
    double most = 0.0;
    std::size_t kept = 0;
    for (const Promise& promise : scratch_) {
      if (promise.value <= most) continue;
      most = promise.value;
      scratch_[kept++] = promise;
    }
    scratch_.resize(kept);
    std::reverse(scratch_.begin(), scratch_.end());
    std::size_t needed = 0;
    while (needed < scratch_.size() && scratch_[needed].free_by_s < horizon) ++needed;
    scratch_.resize(std::min(scratch_.size(), needed + 1));
    tooth.begin[p] = static_cast<std::uint32_t>(tooth.promises.size());
    tooth.promises.insert(tooth.promises.end(), scratch_.begin(), scratch_.end());
    tooth.end[p] = static_cast<std::uint32_t>(tooth.promises.size());
  }
}

double CompletionBound::evaluate() {
  price_rest_.assign(price_.size() + 1, 0.0);
  for (std::size_t i = price_.size(); i-- > 0;) price_rest_[i] = price_rest_[i + 1] + price_[i];
  double sum = price_rest_.front();
  for (Tooth& tooth : teeth_) {
    look_ahead(tooth);
    sum += value_from(tooth, 0, -std::numeric_limits<double>::infinity());
  }
  return sum;
}

// How many teeth must play each note in a best answer to the prices, and how many could.
void CompletionBound::count_plays(std::vector<int>& least, std::vector<int>& most) const {
  constexpr double tie = 1e-9;
  std::fill(least.begin(), least.end(), 0);
  std::fill(most.begin(), most.end(), 0);
  for (const Tooth& tooth : teeth_) {
    double free_at = -std::numeric_limits<double>::infinity();
    for (std::size_t p = 0; p < tooth.prospects.size(); ++p) {
      const Prospect& prospect = tooth.prospects[p];
      const double price = price_[prospect.note];
      const double skip = value_from(tooth, p + 1, free_at);
      double play = -1.0;
      double time = prospect.onset_s;
      if (prospect.at_onset > 0.0 && free_at <= prospect.onset_s + same_time_s)
        play = prospect.at_onset - price +
               value_from(tooth, p + 1, prospect.onset_s + tooth.interval_s);
      const double moved_time = std::max(free_at, prospect.onset_s - move_limit_s);
      if (prospect.moved > 0.0 && moved_time <= prospect.onset_s + move_limit_s + same_time_s) {
        const double moved =
            prospect.moved - price + value_from(tooth, p + 1, moved_time + tooth.interval_s);
        if (moved > play) {
          play = moved;
          time = moved_time;
        }
      }
      if (play < skip - tie) continue;
      ++most[prospect.note];
      if (play > skip + tie) ++least[prospect.note];
      free_at = time + tooth.interval_s;
    }
  }
}

double CompletionBound::after(std::size_t next, const double* free_at_s) const {
  double sum = price_rest_[next - first_];
  for (std::size_t k = 0; k < teeth_.size(); ++k) {
    // Only notes from `next` on count, whatever the tooth could still have played before.
    const Tooth& tooth = teeth_[k];
    const auto begin =
        std::lower_bound(tooth.prospects.begin(), tooth.prospects.end(), next - first_,
                         [](const Prospect& p, std::size_t note) { return p.note < note; });
    if (begin == tooth.prospects.end()) continue;
    sum +=
        value_from(tooth, static_cast<std::size_t>(begin - tooth.prospects.begin()), free_at_s[k]);
  }
  return sum;
}

}  // namespace combwright::arrange
