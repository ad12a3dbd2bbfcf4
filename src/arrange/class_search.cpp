// SPDX-License-Identifier: Apache-2.0
#include "arrange/class_search.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>

#include "arrange/completion_bound.h"
#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

constexpr double never_busy = -std::numeric_limits<double>::infinity();
constexpr double same_value = 1e-9;

struct UseSpan {
  const Use* first;
  const Use* last;
  const Use* begin() const { return first; }
  const Use* end() const { return last; }
};

UseSpan uses_of(const PitchClass& c, std::size_t note) {
  return {c.uses.data() + c.notes[note].first_use, c.uses.data() + c.notes[note].end_use};
}

double best_gain(const PitchClass& c, std::size_t note) {
  double best = 0.0;
  for (const Use& use : uses_of(c, note))
    best = std::max({best, use.at_onset, use.own_pitch ? use.moved : 0.0});
  return best;
}

// Notes [first, last) of a class that compete for teeth, and with no others.
struct Cluster {
  std::size_t first;
  std::size_t last;
};

std::vector<Cluster> clusters_of(const PitchClass& c) {
  const double reach =
      2.0 * move_limit_s +
      (c.teeth.empty() ? 0.0 : *std::max_element(c.interval_s.begin(), c.interval_s.end()));
  std::vector<Cluster> clusters;
  for (std::size_t i = 0; i < c.notes.size(); ++i) {
    const bool apart = i == 0 || c.notes[i].onset_s - c.notes[i - 1].onset_s > reach;
    if (apart) clusters.push_back({i, i});
    clusters.back().last = i + 1;
  }
  return clusters;
}

// What was done for one note on the way to a state.
struct Step {
  std::int32_t before = -1;  // step that led here
  std::int32_t note = 0;
  std::int32_t use = -1;  // -1: dropped
  double time_s = 0.0;
  Fate fate = Fate::dropped;
};

struct State {
  double value = 0.0;
  double promise = 0.0;  // no completion earns more
  std::int32_t step = -1;
  std::uint32_t free_at = 0;  // offset into a pool: when each tooth may be plucked again
};

class ClusterSearch {
 public:
  ClusterSearch(const PitchClass& c, const Cluster& cluster)
      : class_(c), cluster_(cluster), teeth_(c.teeth.size()) {
    find_prospects();
  }

  // Fills the choices of the cluster's notes.
  ClassSolution run(const ClassEffort& effort, std::vector<double>& prices,
                    std::vector<Choice>& choices) {
    ClassSolution best{.bound = rest_.front()};
    search(effort.quick_states, nullptr, best, choices);
    if (best.bound - best.earned <= same_value) return best;
    const auto notes = static_cast<double>(cluster_.last - cluster_.first);
    // Mostly a few rounds let the search prove its answer; only where they don't are all worth it.
    constexpr int few_rounds = 60;
    for (int done = 0, rounds = std::min(few_rounds, effort.price_rounds);
         done < effort.price_rounds && best.bound - best.earned > effort.tolerance * notes;
         rounds = effort.price_rounds - done) {
      const CompletionBound bound(class_, cluster_.first, cluster_.last, best.earned, rounds,
                                  prices);
      best.bound = std::min(best.bound, bound.whole());
      if (effort.states > 0 && best.bound - best.earned > effort.tolerance * notes)
        search(effort.states, &bound, best, choices);
      done += rounds;
    }
    return best;
  }

 private:
  // What a note can earn on one tooth.
  struct Prospect {
    double onset_s;
    double at_onset;
    double moved;
  };

  // For each tooth the prospects of all notes, for each note where its own prospects begin, and
  // what the notes from it on could earn without any limit.
  void find_prospects() {
    const std::size_t count = cluster_.last - cluster_.first;
    prospects_.resize(teeth_);
    first_prospect_.resize((count + 1) * teeth_);
    rest_.assign(count + 1, 0.0);
    for (std::size_t i = 0; i <= count; ++i) {
      for (std::size_t k = 0; k < teeth_; ++k)
        first_prospect_[i * teeth_ + k] = static_cast<std::uint32_t>(prospects_[k].size());
      if (i == count) break;
      for (const Use& use : uses_of(class_, cluster_.first + i)) {
        prospects_[static_cast<std::size_t>(use.tooth)].push_back(
            {class_.notes[cluster_.first + i].onset_s, use.at_onset,
             use.own_pitch ? use.moved : 0.0});
      }
    }
    for (std::size_t i = count; i-- > 0;)
      rest_[i] = rest_[i + 1] + best_gain(class_, cluster_.first + i);
  }

  // The most that one pluck of tooth k can earn at a moment from `from` to before `until`, by the
  // notes from `next` on.
  double stake(std::size_t next, std::size_t k, double from, double until) const {
    double most = 0.0;
    const std::size_t first = first_prospect_[(next - cluster_.first) * teeth_ + k];
    for (std::size_t p = first; p < prospects_[k].size(); ++p) {
      const Prospect& prospect = prospects_[k][p];
      if (prospect.onset_s - move_limit_s >= until) break;
      if (prospect.onset_s >= from - same_time_s && prospect.onset_s < until)
        most = std::max(most, prospect.at_onset);
      if (prospect.onset_s + move_limit_s >= from - same_time_s)
        most = std::max(most, prospect.moved);
    }
    return most;
  }

  // Improves `best` if it can, within the states allowed, and its bound by what was cut.
  void search(std::size_t state_limit, const CompletionBound* bound, ClassSolution& best,
              std::vector<Choice>& choices) {
    bound_ = bound;
    found_ = best.earned;
    lost_ = 0.0;
    steps_.clear();
    pool_.assign(teeth_, never_busy);
    states_ = {State{.promise = rest_.front()}};
    for (std::size_t i = cluster_.first; i < cluster_.last && !states_.empty(); ++i) {
      extend(i);
      keep_best(i + 1, state_limit);
      std::swap(pool_, next_pool_);
    }
    if (!states_.empty() && states_.front().value > best.earned) {
      best.earned = states_.front().value;
      take_choices(states_.front(), choices);
    }
    best.bound = std::min(best.bound, std::max(best.earned, lost_));
  }

  void extend(std::size_t i) {
    const ClassNote& note = class_.notes[i];
    next_states_.clear();
    next_pool_.clear();
    for (const State& state : states_) {
      push(state, i, {.note = static_cast<std::int32_t>(i)}, 0.0);
      for (const Use& use : uses_of(class_, i)) {
        const auto k = static_cast<std::size_t>(use.tooth);
        const auto index = static_cast<std::int32_t>(&use - class_.uses.data());
        const double free_at = pool_[state.free_at + k];
        if (use.at_onset > 0.0 && free_at <= note.onset_s + same_time_s) {
          push(state, i,
               {.note = static_cast<std::int32_t>(i),
                .use = index,
                .time_s = note.onset_s,
                .fate = use.own_pitch ? Fate::kept : Fate::octave},
               use.at_onset);
        }
        if (use.own_pitch && use.moved > 0.0) {
          const double earliest =
              std::max({free_at, note.onset_s - move_limit_s, class_.earliest_s});
          const double latest = std::min(note.onset_s + move_limit_s, class_.latest_s);
          const double time = std::min(earliest, latest);
          if (earliest <= latest + same_time_s &&
              (use.moved > use.at_onset || std::abs(time - note.onset_s) > same_time_s)) {
            push(state, i,
                 {.note = static_cast<std::int32_t>(i),
                  .use = index,
                  .time_s = time,
                  .fate = Fate::moved},
                 use.moved);
          }
        }
      }
    }
  }

  void push(const State& from, std::size_t i, Step step, double gain) {
    State state{.value = from.value + gain,
                .step = static_cast<std::int32_t>(steps_.size()),
                .free_at = static_cast<std::uint32_t>(next_pool_.size())};
    next_pool_.insert(next_pool_.end(), pool_.begin() + from.free_at,
                      pool_.begin() + from.free_at + static_cast<std::ptrdiff_t>(teeth_));
    if (step.use >= 0) {
      const auto k =
          static_cast<std::size_t>(class_.uses[static_cast<std::size_t>(step.use)].tooth);
      next_pool_[state.free_at + k] = step.time_s + class_.interval_s[k];
    }
    state.promise =
        state.value + (bound_ != nullptr ? bound_->after(i + 1, next_pool_.data() + state.free_at)
                                         : rest_[i + 1 - cluster_.first]);
    if (state.promise <= found_ + same_value) {
      next_pool_.resize(state.free_at);
      return;
    }
    step.before = from.step;
    steps_.push_back(step);
    next_states_.push_back(state);
  }

  // Whether `rich` can imitate all that `poor` may still do and end no poorer: on each tooth where
  // `poor` is free sooner, `rich` leaves out the plucks that fall before its own tooth is free.
  bool dominates(const State& rich, const State& poor, std::size_t next) const {
    double spare = rich.value - poor.value;
    if (spare < 0.0) return false;
    const double now = next < cluster_.last ? class_.notes[next].onset_s - move_limit_s : 0.0;
    for (std::size_t k = 0; k < teeth_ && spare >= 0.0; ++k) {
      const double mine = next_pool_[rich.free_at + k];
      const double theirs = std::max(next_pool_[poor.free_at + k], now);
      if (mine <= theirs) continue;
      const double plucks = 1.0 + std::floor((mine - theirs) / class_.interval_s[k]);
      spare -= plucks * stake(next, k, theirs, mine);
    }
    return spare >= 0.0;
  }

  void keep_best(std::size_t next, std::size_t state_limit) {
    constexpr std::size_t rivals = 48;  // that a state is held against; more find little
    std::stable_sort(next_states_.begin(), next_states_.end(), [](const State& a, const State& b) {
      return a.promise != b.promise ? a.promise > b.promise : a.value > b.value;
    });
    states_.clear();
    for (const State& state : next_states_) {
      const std::size_t count = std::min(states_.size(), rivals);
      const bool pointless =
          std::any_of(states_.begin(), states_.begin() + static_cast<std::ptrdiff_t>(count),
                      [&](const State& s) { return dominates(s, state, next); });
      if (pointless) continue;
      if (states_.size() == state_limit) {
        lost_ = std::max(lost_, state.promise);
        break;  // sorted by promise: no later one has more
      }
      states_.push_back(state);
    }
  }

  void take_choices(const State& state, std::vector<Choice>& choices) const {
    for (std::size_t i = cluster_.first; i < cluster_.last; ++i) choices[i] = Choice{};
    for (std::int32_t s = state.step; s >= 0;) {
      const Step& step = steps_[static_cast<std::size_t>(s)];
      if (step.use >= 0) {
        const Use& use = class_.uses[static_cast<std::size_t>(step.use)];
        choices[static_cast<std::size_t>(step.note)] = {
            .fate = step.fate,
            .tooth = class_.teeth[static_cast<std::size_t>(use.tooth)],
            .time_s = step.time_s};
      }
      s = step.before;
    }
  }

  const PitchClass& class_;
  const Cluster cluster_;
  const std::size_t teeth_;
  std::vector<std::vector<Prospect>> prospects_;  // by tooth
  std::vector<std::uint32_t> first_prospect_;     // by note, then tooth
  std::vector<double> rest_;  // the most that notes from each one on could earn without limits
  const CompletionBound* bound_ = nullptr;
  double found_ = 0.0;  // a solution that earns this is known
  double lost_ = 0.0;   // the best promise among the states that were cut
  std::vector<double> pool_, next_pool_;
  std::vector<State> states_, next_states_;
  std::vector<Step> steps_;
};

}  // namespace

ClassSolution solve_class(const PitchClass& pitch_class, const ClassEffort& effort) {
  std::vector<double> prices(pitch_class.notes.size(), std::numeric_limits<double>::infinity());
  return solve_class(pitch_class, effort, prices);
}

ClassSolution solve_class(const PitchClass& pitch_class, const ClassEffort& effort,
                          std::vector<double>& note_prices) {
  ClassSolution solution{.choices = std::vector<Choice>(pitch_class.notes.size())};
  for (const Cluster& cluster : clusters_of(pitch_class)) {
    const ClassSolution part =
        ClusterSearch(pitch_class, cluster).run(effort, note_prices, solution.choices);
    solution.earned += part.earned;
    solution.bound += part.bound;
  }
  const bool ordered = std::all_of(pitch_class.interval_s.begin(), pitch_class.interval_s.end(),
                                   [](double interval) { return interval >= 2.0 * move_limit_s; });
  if (!ordered) {
    solution.bound = 0.0;
    for (std::size_t i = 0; i < pitch_class.notes.size(); ++i)
      solution.bound += best_gain(pitch_class, i);
  }
  return solution;
}

}  // namespace combwright::arrange
