// SPDX-License-Identifier: Apache-2.0
#include "arrange/solve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>

#include "arrange/class_search.h"
#include "arrange/crowds.h"
#include "arrange/exchange.h"
#include "arrange/limits.h"
#include "arrange/pitch_class.h"
#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

// A capacity with its price per pluck.
struct Priced {
  Capacity limit;
  double price = 0.0;

  // With half the rules' tolerance on either side: plucks that keep the rules are never too many.
  double begin_s(int tooth) const { return limit.begin_on(tooth) - 0.5 * same_time_s; }
  double end_s(int tooth) const { return limit.end_on(tooth) + 0.5 * same_time_s; }

  bool counts(int tooth, double time_s) const {
    return limit.concerns(tooth) && time_s >= begin_s(tooth) && time_s <= end_s(tooth);
  }
};

class PricedSearch {
 public:
  PricedSearch(const Problem& problem, const Effort& effort, std::vector<double>& note_prices,
               const Watch& watch)
      : problem_(problem),
        effort_(effort),
        watch_(watch),
        classes_(pitch_classes(problem)),
        base_(classes_),
        solved_(classes_.size()),
        note_prices_(note_prices),
        choices_(problem.demands.size()),
        near_(problem.demands.size()) {}

  Solution run() {
    for (std::size_t c = 0; c < classes_.size(); ++c) solve_priced(c, effort_.classes);
    best_.bound = relaxed_value();
    if (broken_capacities(problem_, choices_).empty()) {
      best_.choices = choices_;
      best_.earned = earned(choices_);
      if (!proven()) improve(choices_, most_nodes());
      return best_;
    }
    best_.choices.resize(choices_.size());
    improve(choices_, most_nodes());
    search_prices();
    tighten();
    return best_;
  }

 private:
  bool proven() const { return best_.bound - best_.earned <= 1e-9 * best_.bound; }

  std::size_t most_nodes() const { return effort_.crowd_nodes * choices_.size(); }

  // Subgradient steps, which shrink whenever they do not find a lower value.
  void search_prices() {
    constexpr double decay = 0.9;
    constexpr double least_scale = 0.02;
    constexpr std::size_t few_nodes = 50'000;  // for a look between
    double step_scale = 1.0;
    double least = std::numeric_limits<double>::infinity();
    for (int round = 1; round <= effort_.price_rounds && !proven(); ++round) {
      add(broken_capacities(problem_, relaxed_choices()));
      if (step_scale < least_scale || !raise_prices(step_scale)) break;
      const double value = relaxed_value();
      if (value > least * (1.0 - 1e-6)) step_scale *= decay;
      if (value < least) {
        least = value;
        best_priced_ = priced_;
      }
      best_.bound = std::min(best_.bound, value);
      if (round % 10 == 0) improve(choices_, std::min(most_nodes(), few_nodes));
    }
  }

  double earned(const std::vector<Choice>& choices) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < choices.size(); ++i) sum += earned_by(problem_, i, choices[i]);
    return sum;
  }

  void solve_priced(std::size_t c, const ClassEffort& effort) {
    watch_.check();
    const PitchClass& pitch_class = classes_[c];
    std::vector<double> prices;
    prices.reserve(pitch_class.notes.size());
    for (const ClassNote& note : pitch_class.notes)
      prices.push_back(note_prices_[static_cast<std::size_t>(note.demand)]);
    solved_[c] = solve_class(pitch_class, effort, prices);
    for (std::size_t i = 0; i < prices.size(); ++i) {
      const auto demand = static_cast<std::size_t>(pitch_class.notes[i].demand);
      note_prices_[demand] = prices[i];
      choices_[demand] = solved_[c].choices[i];
    }
  }

  double relaxed_value() const {
    double value = 0.0;
    for (const ClassSolution& s : solved_) value += s.bound;
    for (const Priced& p : priced_) value += p.price * p.limit.capacity;
    return value;
  }

  void add(const std::vector<Capacity>& broken) {
    for (const Capacity& limit : broken) {
      const bool known = std::any_of(priced_.begin(), priced_.end(), [&](const Priced& p) {
        return p.limit.tooth == limit.tooth &&
               std::abs(p.limit.begin_s - limit.begin_s) < 10.0 * same_time_s;
      });
      if (known) continue;
      const double reach = move_limit_s + std::abs(limit.shift_s);
      const auto& demands = problem_.demands;
      auto demand = std::lower_bound(demands.begin(), demands.end(), limit.begin_s - reach,
                                     [](const Demand& d, double time) { return d.onset_s < time; });
      for (; demand != demands.end() && demand->onset_s <= limit.end_s + reach; ++demand)
        near_[static_cast<std::size_t>(demand - demands.begin())].push_back(priced_.size());
      priced_.push_back({.limit = limit});
    }
  }

  double price_at(std::size_t demand, int tooth, double time_s) const {
    double sum = 0.0;
    for (const std::size_t p : near_[demand])
      if (priced_[p].counts(tooth, time_s)) sum += priced_[p].price;
    return sum;
  }

  // Where in the range that a demand may be moved in a pluck costs least; prices change only where
  // a capacity begins or ends.
  double cheapest_moved_time(std::size_t demand, int tooth) const {
    const double onset = problem_.demands[demand].onset_s;
    const double from = std::max(onset - move_limit_s, problem_.earliest_s);
    const double until = std::min(onset + move_limit_s, problem_.latest_s);
    double best_time = std::min(from, until);
    double best = price_at(demand, tooth, best_time);
    for (const std::size_t p : near_[demand]) {
      if (!priced_[p].limit.concerns(tooth)) continue;
      constexpr double ever = std::numeric_limits<double>::infinity();
      const double before = std::nextafter(priced_[p].begin_s(tooth), -ever);
      const double after = std::nextafter(priced_[p].end_s(tooth), ever);
      for (const double time : {before, after, until}) {
        if (time < from || time > until) continue;
        const double price = price_at(demand, tooth, time);
        if (price < best) {
          best = price;
          best_time = time;
        }
      }
    }
    return best_time;
  }

  // Takes the prices off what each use earns; true for the classes in which anything changed.
  std::vector<bool> charge() {
    std::vector<bool> changed(classes_.size(), false);
    for (std::size_t c = 0; c < classes_.size(); ++c) {
      for (const ClassNote& note : base_[c].notes) {
        const auto demand = static_cast<std::size_t>(note.demand);
        if (near_[demand].empty()) continue;
        for (std::size_t u = note.first_use; u < note.end_use; ++u) {
          const Use& free_use = base_[c].uses[u];
          const int tooth = base_[c].teeth[static_cast<std::size_t>(free_use.tooth)];
          Use use = free_use;
          use.at_onset -= price_at(demand, tooth, note.onset_s);
          if (use.own_pitch)
            use.moved -= price_at(demand, tooth, cheapest_moved_time(demand, tooth));
          Use& present = classes_[c].uses[u];
          changed[c] = changed[c] || use.at_onset != present.at_onset || use.moved != present.moved;
          present = use;
        }
      }
    }
    return changed;
  }

  // The present choices, moved notes where they cost least: what the relaxed problem really chose.
  std::vector<Choice> relaxed_choices() const {
    std::vector<Choice> choices = choices_;
    for (std::size_t i = 0; i < choices.size(); ++i)
      if (choices[i].fate == Fate::moved && !near_[i].empty())
        choices[i].time_s = cheapest_moved_time(i, choices[i].tooth);
    return choices;
  }

  // How many of the choices each capacity counts.
  std::vector<int> loads(const std::vector<Choice>& choices) const {
    std::vector<int> count(priced_.size(), 0);
    for (std::size_t i = 0; i < choices.size(); ++i) {
      if (choices[i].tooth < 0) continue;
      for (const std::size_t p : near_[i])
        if (priced_[p].counts(choices[i].tooth, choices[i].time_s)) ++count[p];
    }
    return count;
  }

  // One subgradient step with Polyak's length; solves the classes whose prices changed. False if
  // there is no direction left to go.
  bool raise_prices(double step_scale) {
    const std::vector<int> load = loads(relaxed_choices());
    std::vector<double> slope(priced_.size());
    double norm = 0.0;
    for (std::size_t i = 0; i < priced_.size(); ++i) {
      slope[i] = load[i] - priced_[i].limit.capacity;
      if (priced_[i].price == 0.0 && slope[i] < 0.0) slope[i] = 0.0;
      norm += slope[i] * slope[i];
    }
    if (norm == 0.0) return false;
    const double step = step_scale * (relaxed_value() - best_.earned) / norm;
    for (std::size_t i = 0; i < priced_.size(); ++i)
      priced_[i].price = std::max(0.0, priced_[i].price + step * slope[i]);
    const std::vector<bool> changed = charge();
    for (std::size_t c = 0; c < classes_.size(); ++c)
      if (changed[c]) solve_priced(c, effort_.priced_classes);
    return true;
  }

  // With the best prices found, the classes once more as well as can be.
  void tighten() {
    if (best_priced_.empty() || proven()) return;
    priced_ = best_priced_;
    for (auto& indices : near_) {
      indices.erase(std::remove_if(indices.begin(), indices.end(),
                                   [&](std::size_t p) { return p >= priced_.size(); }),
                    indices.end());
    }
    classes_ = base_;
    charge();
    for (std::size_t c = 0; c < classes_.size(); ++c) solve_priced(c, effort_.classes);
    best_.bound = std::min(best_.bound, relaxed_value());
    improve(choices_, most_nodes());
    improve(best_.choices, most_nodes());
  }

  // Makes choices keep all limits, improves them by exchanges and crowd by crowd, and remembers the
  // result if it is the best so far.
  void improve(const std::vector<Choice>& start, std::size_t nodes) {
    watch_.check();
    std::vector<Choice> feasible = start;
    mend(feasible);
    improve_by_exchange(problem_, feasible, effort_.exchange_attempts);
    if (nodes > 0 && improve_crowds(problem_, feasible, nodes))
      improve_by_exchange(problem_, feasible, effort_.exchange_attempts);
    const double value = earned(feasible);
    if (value > best_.earned) {
      best_.earned = value;
      best_.choices = std::move(feasible);
    }
  }

  void mend(std::vector<Choice>& choices) const {
    std::vector<double> value(choices.size());
    for (std::size_t i = 0; i < choices.size(); ++i) value[i] = earned_by(problem_, i, choices[i]);
    drop_breaches(problem_, value, choices);
  }

  const Problem& problem_;
  const Effort effort_;
  const Watch& watch_;
  std::vector<PitchClass> classes_;  // with prices taken off
  const std::vector<PitchClass> base_;
  std::vector<ClassSolution> solved_;
  std::vector<double>& note_prices_;  // by demand: of the classes' completion bounds
  std::vector<Choice> choices_;       // of the priced classes; may break limits
  std::vector<Priced> priced_, best_priced_;
  std::vector<std::vector<std::size_t>> near_;  // by demand: capacities that may count it
  Solution best_;
};

}  // namespace

Effort effort_for(std::size_t notes) {
  // Chosen on real tunes of 20 to 4,000 notes: more of any of these found hardly more.
  constexpr int note_rounds = 250'000;
  constexpr int note_class_rounds = 4'000'000;
  constexpr int note_states = 400'000;
  constexpr int first_crowd_nodes = 300'000;
  constexpr int more_crowd_nodes = 600'000;
  const auto each = [notes](int all, int least, int most) {
    const auto count = static_cast<int>(std::min<std::size_t>(notes, 1'000'000)) + 1;
    return std::clamp(all / count, least, most);
  };
  const Effort usual;
  Effort effort;
  effort.price_rounds = each(note_rounds, 4, usual.price_rounds);
  const int crowd_nodes = each(first_crowd_nodes, 0, 10'000) + each(more_crowd_nodes, 20, 300);
  effort.crowd_nodes = static_cast<std::size_t>(crowd_nodes);
  effort.classes.price_rounds = each(note_class_rounds, 20, usual.classes.price_rounds);
  effort.classes.states = static_cast<std::size_t>(each(note_states, 20, 2'000));
  return effort;
}

Solution solve(const Problem& problem, const Effort& effort, std::vector<double>& note_prices,
               const Watch& watch) {
  assert(note_prices.size() == problem.demands.size());
  return PricedSearch(problem, effort, note_prices, watch).run();
}

Solution solve(const Problem& problem) {
  return solve(problem, effort_for(problem.demands.size()));
}

Solution solve(const Problem& problem, const Effort& effort) {
  std::vector<double> prices(problem.demands.size(), std::numeric_limits<double>::infinity());
  return solve(problem, effort, prices);
}

}  // namespace combwright::arrange
