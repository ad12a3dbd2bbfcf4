// SPDX-License-Identifier: Apache-2.0
#include "arrange/exchange.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>

#include "arrange/pitch_class.h"
#include "arrange/rules.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

class Exchange {
 public:
  Exchange(const Problem& problem, std::vector<Choice>& choices, int attempts)
      : problem_(problem),
        choices_(choices),
        attempts_left_(attempts),
        teeth_by_class_(teeth_by_pitch_class(problem)),
        by_tooth_(problem.teeth.size()) {
    for (std::size_t i = 0; i < choices.size(); ++i)
      if (choices[i].tooth >= 0) enter(i);
  }

  void run() {
    constexpr int passes = 3;
    for (int pass = 0; pass < passes; ++pass) {
      bool better = false;
      for (const std::size_t i : by_loss()) better = improve(i) || better;
      if (!better || attempts_left_ <= 0) break;
    }
  }

 private:
  struct Stroke {
    double time_s;
    std::size_t demand;
    bool operator<(const Stroke& other) const {
      return time_s != other.time_s ? time_s < other.time_s : demand < other.demand;
    }
  };
  using Strokes = std::set<Stroke>;

  double value_of(std::size_t i, const Choice& choice) const {
    return earned_by(problem_, i, choice);
  }

  void enter(std::size_t i) {
    const Stroke stroke{choices_[i].time_s, i};
    all_.insert(stroke);
    by_tooth_[static_cast<std::size_t>(choices_[i].tooth)].insert(stroke);
  }

  void take_out(std::size_t i) {
    const Stroke stroke{choices_[i].time_s, i};
    all_.erase(stroke);
    by_tooth_[static_cast<std::size_t>(choices_[i].tooth)].erase(stroke);
    choices_[i] = Choice{};
  }

  void set(std::size_t i, const Choice& choice) {
    if (choices_[i].tooth >= 0) take_out(i);
    choices_[i] = choice;
    if (choice.tooth >= 0) enter(i);
  }

  std::vector<std::size_t> by_loss() const {
    std::vector<std::size_t> order;
    std::vector<double> loss(choices_.size());
    for (std::size_t i = 0; i < choices_.size(); ++i) {
      loss[i] = problem_.demands[i].weight - value_of(i, choices_[i]);
      if (loss[i] > 1e-9) order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return loss[a] > loss[b]; });
    return order;
  }

  // Every way to play a demand that is worth considering, dearest first.
  std::vector<Choice> ways(std::size_t i) const {
    const Demand& demand = problem_.demands[i];
    std::vector<Choice> result;
    const auto pitch_class = static_cast<std::size_t>(music::pitch_class(demand.midi));
    for (const int tooth : teeth_by_class_[pitch_class]) {
      const auto k = static_cast<std::size_t>(tooth);
      const int midi = problem_.teeth[k].midi;
      if (earned_at_onset(demand, midi) <= 0.0) continue;
      const bool own = midi == demand.midi;
      result.push_back({own ? Fate::kept : Fate::octave, tooth, demand.onset_s});
      if (!own || earned_moved(demand) <= 0.0) continue;
      for (const double time : moved_times(i, k)) result.push_back({Fate::moved, tooth, time});
    }
    std::stable_sort(result.begin(), result.end(), [&](const Choice& a, const Choice& b) {
      return value_of(i, a) > value_of(i, b);
    });
    return result;
  }

  // The ends of the range a note may be moved in, and where in it a limit just lets go.
  std::vector<double> moved_times(std::size_t i, std::size_t k) const {
    const double onset = problem_.demands[i].onset_s;
    const double from = std::max(onset - move_limit_s, problem_.earliest_s);
    const double until = std::min(onset + move_limit_s, problem_.latest_s);
    std::vector<double> times;
    const auto offer = [&](double time) {
      if (time >= from && time <= until && std::abs(time - onset) > same_time_s)
        times.push_back(time);
    };
    offer(from);
    offer(until);
    const auto offer_around = [&](const Strokes& strokes, double distance) {
      const double reach = distance + clearance_s;
      for (auto s = strokes.lower_bound({from - reach, 0});
           s != strokes.end() && s->time_s <= until + reach; ++s) {
        offer(s->time_s + reach);
        offer(s->time_s - reach);
      }
    };
    offer_around(by_tooth_[k], problem_.teeth[k].interval_s);
    offer_around(all_, problem_.pluck_window_s);
    std::sort(times.begin(), times.end());
    times.erase(std::unique(times.begin(), times.end()), times.end());
    return times;
  }

  // Who must give way if this choice is made: those too near on its tooth or beside it, and the
  // cheapest of those that crowd the motor. The dearest are never asked to go for nothing: the
  // caller compares the sums.
  std::vector<std::size_t> in_the_way(const Choice& choice) const {
    std::vector<std::size_t> out;
    const auto k = static_cast<std::size_t>(choice.tooth);
    const auto clear = [&](std::size_t tooth, double low, double high) {
      const Strokes& strokes = by_tooth_[tooth];
      for (auto s = strokes.upper_bound({low, choices_.size()});
           s != strokes.end() && s->time_s < high; ++s)
        out.push_back(s->demand);
    };
    const double interval = problem_.teeth[k].interval_s - same_time_s;
    clear(k, choice.time_s - interval, choice.time_s + interval);
    if (!problem_.neighbours.empty()) {
      if (k > 0) {
        const NeighbourLimit& limit = problem_.neighbours[k - 1];
        const double centre = choice.time_s - limit.shift_s;
        clear(k - 1, centre - limit.reach_s, centre + limit.reach_s);
      }
      if (k + 1 < by_tooth_.size()) {
        const NeighbourLimit& limit = problem_.neighbours[k];
        const double centre = choice.time_s + limit.shift_s;
        clear(k + 1, centre - limit.reach_s, centre + limit.reach_s);
      }
    }
    make_room_for_motor(choice.time_s, out);
    return out;
  }

  void make_room_for_motor(double time, std::vector<std::size_t>& out) const {
    const double window = problem_.pluck_window_s + clearance_s;
    std::vector<Stroke> near;
    for (auto s = all_.lower_bound({time - window, 0});
         s != all_.end() && s->time_s <= time + window; ++s)
      if (std::find(out.begin(), out.end(), s->demand) == out.end()) near.push_back(*s);
    const auto most = static_cast<std::size_t>(problem_.most_plucks);
    for (std::size_t i = 0; i + most <= near.size();) {
      const double first = std::min(near[i].time_s, time);
      const double last = std::max(near[i + most - 1].time_s, time);
      if (last - first > problem_.pluck_window_s + same_time_s) {
        ++i;
        continue;
      }
      const auto begin = near.begin() + static_cast<std::ptrdiff_t>(i);
      const auto cheapest = std::min_element(
          begin, begin + static_cast<std::ptrdiff_t>(most), [&](const Stroke& a, const Stroke& b) {
            return value_of(a.demand, choices_[a.demand]) < value_of(b.demand, choices_[b.demand]);
          });
      out.push_back(cheapest->demand);
      near.erase(cheapest);
    }
  }

  // Puts a demand where it earns most without anybody giving way.
  void settle(std::size_t i) {
    for (const Choice& way : ways(i)) {
      if (!in_the_way(way).empty()) continue;
      set(i, way);
      return;
    }
  }

  bool improve(std::size_t i) {
    if (attempts_left_ <= 0) return false;
    const double before = value_of(i, choices_[i]);
    const Choice old = choices_[i];
    if (old.tooth >= 0) take_out(i);
    for (const Choice& way : ways(i)) {
      const double gain = value_of(i, way) - before;
      if (gain <= 1e-9 || --attempts_left_ < 0) break;
      const std::vector<std::size_t> out = in_the_way(way);
      constexpr std::size_t most_out = 4;
      if (out.size() > most_out) continue;
      double cost = 0.0;
      std::vector<Choice> old_choices;
      for (const std::size_t j : out) {
        cost += value_of(j, choices_[j]);
        old_choices.push_back(choices_[j]);
        take_out(j);
      }
      set(i, way);
      for (const std::size_t j : out) {
        settle(j);
        cost -= value_of(j, choices_[j]);
      }
      if (gain - cost > 1e-9) return true;
      for (const std::size_t j : out)
        if (choices_[j].tooth >= 0) take_out(j);
      take_out(i);
      for (std::size_t n = 0; n < out.size(); ++n) set(out[n], old_choices[n]);
    }
    set(i, old);
    return false;
  }

  const Problem& problem_;
  std::vector<Choice>& choices_;
  int attempts_left_;
  std::vector<std::vector<int>> teeth_by_class_;
  Strokes all_;
  std::vector<Strokes> by_tooth_;
};

}  // namespace

void improve_by_exchange(const Problem& problem, std::vector<Choice>& choices, int attempts) {
  Exchange(problem, choices, attempts).run();
}

}  // namespace combwright::arrange
