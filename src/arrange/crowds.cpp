// SPDX-License-Identifier: Apache-2.0
#include "arrange/crowds.h"

#include <algorithm>
#include <utility>

#include "arrange/crowd_search.h"
#include "arrange/pitch_class.h"
#include "arrange/rules.h"
#include "music/pitch.h"

namespace combwright::arrange {
namespace {

constexpr std::size_t crowd_size = 12;    // notes
constexpr std::size_t crowd_step = 4;     // notes from one crowd to the next
constexpr std::size_t most_nodes = 4000;  // for one crowd

struct Span {
  double from_s;
  double until_s;
};

// Cuts what lies between low and high out of the spans.
void cut(double low, double high, std::vector<Span>& spans) {
  std::vector<Span> left;
  for (const Span& span : spans) {
    if (span.until_s <= low || span.from_s >= high) {
      left.push_back(span);
      continue;
    }
    if (span.from_s <= low) left.push_back({span.from_s, low});
    if (span.until_s >= high) left.push_back({high, span.until_s});
  }
  spans = std::move(left);
}

class Crowds {
 public:
  Crowds(const Problem& problem, std::vector<Choice>& choices, std::size_t nodes)
      : problem_(problem),
        choices_(choices),
        nodes_left_(nodes),
        teeth_by_class_(teeth_by_pitch_class(problem)) {
    for (const Tooth& tooth : problem.teeth) reach_s_ = std::max(reach_s_, tooth.interval_s);
    reach_s_ = std::max(reach_s_, problem.pluck_window_s) + 2.0 * move_limit_s;
    list_plucks();
  }

  bool run() {
    constexpr std::size_t places = 3;  // of a note in its crowd: first, in the middle, last
    bool any = false;
    std::size_t idle = 0;
    for (std::size_t pass = 0; idle < places && nodes_left_ > 0; ++pass) {
      notes_before_ = pass % places * crowd_size / 2;
      const bool better = go_over();
      any = any || better;
      idle = better ? 0 : idle + 1;
    }
    return any;
  }

 private:
  struct Pluck {
    double time_s;
    std::size_t demand;
  };

  double value(std::size_t i) const { return earned_by(problem_, i, choices_[i]); }

  void list_plucks() {
    all_.clear();
    by_tooth_.assign(problem_.teeth.size(), {});
    for (std::size_t i = 0; i < choices_.size(); ++i)
      if (choices_[i].tooth >= 0) all_.push_back({choices_[i].time_s, i});
    std::sort(all_.begin(), all_.end(), [](const Pluck& a, const Pluck& b) {
      return a.time_s != b.time_s ? a.time_s < b.time_s : a.demand < b.demand;
    });
    for (const Pluck& pluck : all_)
      by_tooth_[static_cast<std::size_t>(choices_[pluck.demand].tooth)].push_back(pluck);
  }

  static std::vector<Pluck>::const_iterator first_from(const std::vector<Pluck>& plucks,
                                                       double time_s) {
    return std::lower_bound(plucks.begin(), plucks.end(), time_s,
                            [](const Pluck& pluck, double time) { return pluck.time_s < time; });
  }

  bool go_over() {
    bool better = false;
    for (std::size_t i = 0; i < choices_.size() && nodes_left_ > 0;) {
      if (problem_.demands[i].weight - value(i) <= 1e-9) {
        ++i;
        continue;
      }
      better = improve_around(i) || better;
      i += crowd_step;
    }
    return better;
  }

  // The notes near demand i that the motor or a tooth can tie to it, as many as a crowd may have.
  void gather(std::size_t i) {
    const auto& demands = problem_.demands;
    first_ = i;
    while (first_ > 0 && i - first_ < notes_before_ &&
           demands[i].onset_s - demands[first_ - 1].onset_s <= reach_s_)
      --first_;
    end_ = i + 1;
    while (end_ < demands.size() && end_ - first_ < crowd_size &&
           demands[end_].onset_s - demands[i].onset_s <= reach_s_)
      ++end_;
  }

  bool in_crowd(std::size_t demand) const { return demand >= first_ && demand < end_; }

  bool improve_around(std::size_t i) {
    gather(i);
    Crowd crowd{.notes = end_ - first_};
    uses_.clear();
    double now = 0.0;
    for (std::size_t d = first_; d < end_; ++d) {
      now += value(d);
      add_uses(d, crowd);
    }
    add_others(crowd);
    const CrowdAnswer answer =
        search_crowd(problem_, crowd, now, std::min(most_nodes, nodes_left_));
    nodes_left_ -= answer.nodes;
    if (answer.earned <= now) return false;
    for (std::size_t d = first_; d < end_; ++d) {
      const int use = answer.use[d - first_];
      choices_[d] = use < 0 ? Choice{} : uses_[static_cast<std::size_t>(use)];
      if (use >= 0) choices_[d].time_s = answer.time_s[d - first_];
    }
    list_plucks();
    return true;
  }

  void add_others(Crowd& crowd) const {
    const double reach = problem_.pluck_window_s + move_limit_s + clearance_s;
    const double from = problem_.demands[first_].onset_s - reach;
    const double until = problem_.demands[end_ - 1].onset_s + reach;
    for (auto pluck = first_from(all_, from); pluck != all_.end() && pluck->time_s <= until;
         ++pluck)
      if (!in_crowd(pluck->demand)) crowd.others_s.push_back(pluck->time_s);
  }

  // Every use of a demand that the plucks outside the crowd leave room for.
  void add_uses(std::size_t d, Crowd& crowd) {
    const Demand& demand = problem_.demands[d];
    const int note = static_cast<int>(d - first_);
    for (const int k : teeth_by_class_[static_cast<std::size_t>(music::pitch_class(demand.midi))]) {
      const int midi = problem_.teeth[static_cast<std::size_t>(k)].midi;
      const double gain = earned_at_onset(demand, midi);
      if (gain <= 0.0) continue;
      const bool own = midi == demand.midi;
      for (const Span& span : room(k, demand.onset_s, demand.onset_s)) {
        crowd.uses.push_back({note, k, gain, span.from_s, span.until_s});
        uses_.push_back({.fate = own ? Fate::kept : Fate::octave, .tooth = k});
      }
      const double moved = earned_moved(demand);
      if (!own || moved <= 0.0) continue;
      for (const Span& span :
           room(k, demand.onset_s - move_limit_s, demand.onset_s + move_limit_s)) {
        crowd.uses.push_back({note, k, moved, span.from_s, span.until_s});
        uses_.push_back({.fate = Fate::moved, .tooth = k});
      }
    }
  }

  // When a tooth may be plucked from one moment to another.
  std::vector<Span> room(int k, double from_s, double until_s) const {
    const auto tooth = static_cast<std::size_t>(k);
    std::vector<Span> spans;
    from_s = std::max(from_s, problem_.earliest_s);
    until_s = std::min(until_s, problem_.latest_s);
    if (from_s > until_s) return spans;
    spans.push_back({from_s, until_s});
    cut_around(tooth, 0.0, problem_.teeth[tooth].interval_s, spans);
    if (problem_.neighbours.empty()) return spans;
    if (tooth > 0) {
      const NeighbourLimit& limit = problem_.neighbours[tooth - 1];
      cut_around(tooth - 1, limit.shift_s, limit.reach_s + clearance_s, spans);
    }
    if (tooth + 1 < by_tooth_.size()) {
      const NeighbourLimit& limit = problem_.neighbours[tooth];
      cut_around(tooth + 1, -limit.shift_s, limit.reach_s + clearance_s, spans);
    }
    return spans;
  }

  void cut_around(std::size_t tooth, double shift_s, double reach_s,
                  std::vector<Span>& spans) const {
    if (spans.empty()) return;
    const double until = spans.back().until_s + reach_s - shift_s;
    const auto& plucks = by_tooth_[tooth];
    for (auto pluck = first_from(plucks, spans.front().from_s - reach_s - shift_s);
         pluck != plucks.end() && pluck->time_s <= until; ++pluck) {
      if (in_crowd(pluck->demand)) continue;
      cut(pluck->time_s + shift_s - reach_s, pluck->time_s + shift_s + reach_s, spans);
    }
  }

  const Problem& problem_;
  std::vector<Choice>& choices_;
  std::size_t nodes_left_;
  std::vector<std::vector<int>> teeth_by_class_;
  std::vector<Pluck> all_;  // in order of time
  std::vector<std::vector<Pluck>> by_tooth_;
  double reach_s_ = 0.0;
  std::size_t notes_before_ = 0;  // of a crowd, before the note that it is for
  std::size_t first_ = 0;         // demands of the crowd: from here
  std::size_t end_ = 0;           // to before here
  std::vector<Choice> uses_;      // by use of the crowd: fate and tooth
};

}  // namespace

bool improve_crowds(const Problem& problem, std::vector<Choice>& choices, std::size_t nodes) {
  return Crowds(problem, choices, nodes).run();
}

}  // namespace combwright::arrange
