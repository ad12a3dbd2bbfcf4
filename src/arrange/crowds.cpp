// SPDX-License-Identifier: Apache-2.0
#include "arrange/crowds.h"

#include <algorithm>
#include <cstdlib>
#include <cstdio>
#include <cmath>

#include "arrange/crowd_search.h"
#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

constexpr double clearance_s = 2.0 * same_time_s;
constexpr std::size_t crowd_size = 12;  // notes
constexpr std::size_t crowd_step = 4;
const std::size_t crowd_nodes = std::getenv("CN") ? std::atol(std::getenv("CN")) : 4000;

struct Span {
  double from_s;
  double until_s;
};

// Cuts what lies within (low, high) out of the spans.
void cut(std::vector<Span>& spans, double low, double high) {
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
      : problem_(problem), choices_(choices), nodes_left_(nodes), by_class_(12) {
    for (std::size_t k = 0; k < problem.teeth.size(); ++k)
      by_class_[pitch_class(problem.teeth[k].midi)].push_back(static_cast<int>(k));
    list_plucks();
  }

  bool run() {
    bool any = false;
    int idle = 0;  // passes since the last improvement
    for (std::size_t pass = 0; idle < 3 && nodes_left_ > 0; ++pass) {
      before_ = pass % 3 * crowd_size / 2;
      const bool better = go_over();
      any = any || better;
      idle = better ? 0 : idle + 1;
    }
    return any;
  }

 private:
  static std::size_t pitch_class(int midi) {
    return static_cast<std::size_t>(((midi % 12) + 12) % 12);
  }

  bool go_over() {
    bool better = false;
    for (std::size_t i = 0; i < choices_.size() && nodes_left_ > 0;) {
      if (loss(i) <= 1e-9) {
        ++i;
        continue;
      }
      better = improve(i) || better;
      i += crowd_step;
    }
    return better;
  }

  double loss(std::size_t i) const { return problem_.demands[i].weight - value(i); }

  double value(std::size_t i) const {
    const Choice& choice = choices_[i];
    if (choice.tooth < 0) return 0.0;
    const Demand& demand = problem_.demands[i];
    return choice.fate == Fate::moved
               ? moved_share * demand.weight
               : earned_at_onset(demand,
                                 problem_.teeth[static_cast<std::size_t>(choice.tooth)].midi);
  }

  void list_plucks() {
    all_s_.clear();
    by_tooth_.assign(problem_.teeth.size(), {});
    for (std::size_t i = 0; i < choices_.size(); ++i) {
      if (choices_[i].tooth < 0) continue;
      all_s_.push_back({choices_[i].time_s, i});
      by_tooth_[static_cast<std::size_t>(choices_[i].tooth)].push_back({choices_[i].time_s, i});
    }
    std::sort(all_s_.begin(), all_s_.end(),
              [](const Pluck& a, const Pluck& b) { return a.time_s < b.time_s; });
  }

  // The notes around i, as many as a crowd may have and as near as the motor can tell.
  Span crowd_around(std::size_t i) {
    const double reach = problem_.pluck_window_s + 2.0 * move_limit_s;
    const auto& demands = problem_.demands;
    first_ = i;
    while (first_ > 0 && i - first_ < before_ &&
           demands[i].onset_s - demands[first_ - 1].onset_s <= reach)
      --first_;
    last_ = i + 1;
    while (last_ < demands.size() && last_ - first_ < crowd_size &&
           demands[last_].onset_s - demands[i].onset_s <= reach)
      ++last_;
    return {demands[first_].onset_s - move_limit_s, demands[last_ - 1].onset_s + move_limit_s};
  }

  bool in_crowd(std::size_t demand) const { return demand >= first_ && demand < last_; }

  bool improve(std::size_t i) {
    const Span span = crowd_around(i);
    Crowd crowd{.notes = last_ - first_};
    const double reach = problem_.pluck_window_s + clearance_s;
    auto pluck = std::lower_bound(all_s_.begin(), all_s_.end(), span.from_s - reach,
                                  [](const Pluck& p, double time) { return p.time_s < time; });
    for (; pluck != all_s_.end() && pluck->time_s <= span.until_s + reach; ++pluck)
      if (!in_crowd(pluck->demand)) crowd.others_s.push_back(pluck->time_s);
    double before = 0.0;
    double most = 0.0;
    uses_.clear();
    for (std::size_t d = first_; d < last_; ++d) {
      before += value(d);
      add_uses(d, crowd);
      double best = 0.0;
      for (const CrowdUse& use : crowd.uses)
        if (use.note == static_cast<int>(d - first_)) best = std::max(best, use.gain);
      most += best;
    }
    if (most <= before + 1e-9) return false;
    const CrowdAnswer answer =
        search_crowd(problem_, crowd, before, std::min(crowd_nodes, nodes_left_));
    if (std::getenv("DBG")) std::fprintf(stderr, "crowd at %.3f %d notes %d uses: before %.4f earned %.4f bound %.4f nodes %zu\n", problem_.demands[first_].onset_s, static_cast<int>(crowd.notes), static_cast<int>(crowd.uses.size()), before, answer.earned, answer.bound, answer.nodes);
    nodes_left_ -= std::min(nodes_left_, answer.nodes);
    if (answer.earned <= before + 1e-9) return false;
    for (std::size_t d = first_; d < last_; ++d) {
      const int u = answer.use[d - first_];
      choices_[d] = u < 0 ? Choice{} : uses_[static_cast<std::size_t>(u)];
      if (u >= 0) choices_[d].time_s = answer.time_s[d - first_];
    }
    list_plucks();
    return true;
  }

  // Every use of a demand that outsiders leave room for.
  void add_uses(std::size_t d, Crowd& crowd) {
    const Demand& demand = problem_.demands[d];
    const int note = static_cast<int>(d - first_);
    for (const int k : by_class_[pitch_class(demand.midi)]) {
      const int midi = problem_.teeth[static_cast<std::size_t>(k)].midi;
      const double gain = earned_at_onset(demand, midi);
      if (gain <= 0.0) continue;
      const bool own = midi == demand.midi;
      std::vector<Span> at_onset{{demand.onset_s, demand.onset_s}};
      cut_outsiders(k, at_onset);
      const bool on_disc = demand.onset_s >= problem_.earliest_s - same_time_s &&
                           demand.onset_s <= problem_.latest_s + same_time_s;
      if (!at_onset.empty() && on_disc)
        add({note, k, gain, demand.onset_s, demand.onset_s}, own ? Fate::kept : Fate::octave,
            crowd);
      if (!own) continue;
      const double from = std::max(demand.onset_s - move_limit_s, problem_.earliest_s);
      const double until = std::min(demand.onset_s + move_limit_s, problem_.latest_s);
      if (from > until) continue;
      std::vector<Span> moved{{from, until}};
      cut_outsiders(k, moved);
      for (const Span& span : moved)
        add({note, k, moved_share * demand.weight, span.from_s, span.until_s}, Fate::moved, crowd);
    }
  }

  void add(const CrowdUse& use, Fate fate, Crowd& crowd) {
    crowd.uses.push_back(use);
    uses_.push_back({.fate = fate, .tooth = use.tooth});
  }

  void cut_outsiders(int k, std::vector<Span>& spans) const {
    const auto tooth = static_cast<std::size_t>(k);
    const double interval = problem_.teeth[tooth].interval_s;
    cut_around(tooth, 0.0, interval, spans);
    if (problem_.neighbours.empty()) return;
    if (tooth > 0) {
      const NeighbourLimit& limit = problem_.neighbours[tooth - 1];
      cut_around(tooth - 1, limit.shift_s, limit.reach_s + clearance_s, spans);
    }
    if (tooth + 1 < by_tooth_.size()) {
      const NeighbourLimit& limit = problem_.neighbours[tooth];
      cut_around(tooth + 1, -limit.shift_s, limit.reach_s + clearance_s, spans);
    }
  }

  void cut_around(std::size_t tooth, double shift, double reach, std::vector<Span>& spans) const {
    if (spans.empty()) return;
    const auto& plucks = by_tooth_[tooth];
    for (const Pluck& pluck : plucks) {
      if (in_crowd(pluck.demand)) continue;
      const double centre = pluck.time_s + shift;
      if (centre + reach < spans.front().from_s - 1.0 || spans.empty()) continue;
      cut(spans, centre - reach, centre + reach);
      if (spans.empty()) return;
    }
  }

  struct Pluck {
    double time_s;
    std::size_t demand;
  };

  const Problem& problem_;
  std::vector<Choice>& choices_;
  std::size_t nodes_left_;
  std::vector<std::vector<int>> by_class_;
  std::vector<Pluck> all_s_;
  std::vector<std::vector<Pluck>> by_tooth_;
  std::size_t before_ = 0;            // notes of a crowd before the one it is for
  std::size_t first_ = 0, last_ = 0;  // demands of the crowd
  std::vector<Choice> uses_;          // by use of the crowd: fate and tooth
};

}  // namespace

bool improve_crowds(const Problem& problem, std::vector<Choice>& choices, std::size_t nodes) {
  return Crowds(problem, choices, nodes).run();
}

}  // namespace combwright::arrange
