// SPDX-License-Identifier: Apache-2.0
#include "arrange/octaves.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <utility>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

constexpr int no_melody = std::numeric_limits<int>::max();

// By demand: the lowest melody pitch of the last onset that had any; a tooth rings on.
std::vector<int> melody_above(const Problem& problem) {
  const auto& demands = problem.demands;
  std::vector<int> melody(demands.size(), no_melody);
  int last = no_melody;
  for (std::size_t begin = 0; begin < demands.size();) {
    std::size_t end = begin;
    int lowest = no_melody;
    while (end < demands.size() && demands[end].onset_s - demands[begin].onset_s <= same_onset_s) {
      if (demands[end].melody) lowest = std::min(lowest, demands[end].midi);
      ++end;
    }
    if (lowest != no_melody) last = lowest;
    std::fill(melody.begin() + static_cast<std::ptrdiff_t>(begin),
              melody.begin() + static_cast<std::ptrdiff_t>(end), last);
    begin = end;
  }
  return melody;
}

class Octaves {
 public:
  Octaves(const Problem& problem, std::vector<Choice>& choices)
      : problem_(problem),
        choices_(choices),
        melody_(melody_above(problem)),
        plucks_s_(problem.teeth.size()) {
    for (const Choice& choice : choices)
      if (choice.tooth >= 0) plucks_s_[index(choice.tooth)].push_back(choice.time_s);
  }

  void run() {
    for (std::size_t i = 0; i < choices_.size(); ++i)
      if (choices_[i].fate == Fate::octave) settle(i);
  }

 private:
  static std::size_t index(int tooth) { return static_cast<std::size_t>(tooth); }

  // The lower, the better.
  std::pair<bool, int> rank(std::size_t i, std::size_t tooth) const {
    const Demand& demand = problem_.demands[i];
    const int midi = problem_.teeth[tooth].midi;
    return {!demand.melody && midi > melody_[i], std::abs(midi - demand.midi)};
  }

  void settle(std::size_t i) {
    const std::size_t old = index(choices_[i].tooth);
    std::size_t best = old;
    for (std::size_t k = 0; k < problem_.teeth.size(); ++k) {
      const int away = std::abs(problem_.teeth[k].midi - problem_.demands[i].midi);
      const bool octave = away == 12 || away == octave_reach_semitones;
      if (octave && rank(i, k) < rank(i, best) && is_free(k, choices_[i].time_s)) best = k;
    }
    if (best == old) return;
    auto& from = plucks_s_[old];
    from.erase(std::find(from.begin(), from.end(), choices_[i].time_s));
    plucks_s_[best].push_back(choices_[i].time_s);
    choices_[i].tooth = static_cast<int>(best);
  }

  bool is_free(std::size_t tooth, double time_s) const {
    if (any_within(tooth, time_s, problem_.teeth[tooth].interval_s - same_time_s)) return false;
    if (problem_.neighbours.empty()) return true;
    const auto& beside = problem_.neighbours;
    const bool below = tooth > 0 && any_within(tooth - 1, time_s - beside[tooth - 1].shift_s,
                                               beside[tooth - 1].reach_s);
    const bool above = tooth < beside.size() &&
                       any_within(tooth + 1, time_s + beside[tooth].shift_s, beside[tooth].reach_s);
    return !below && !above;
  }

  bool any_within(std::size_t tooth, double time_s, double reach_s) const {
    const auto& plucks = plucks_s_[tooth];
    return std::any_of(plucks.begin(), plucks.end(),
                       [&](double other) { return std::abs(other - time_s) < reach_s; });
  }

  const Problem& problem_;
  std::vector<Choice>& choices_;
  const std::vector<int> melody_;
  std::vector<std::vector<double>> plucks_s_;  // by tooth
};

}  // namespace

void prefer_near_octaves(const Problem& problem, std::vector<Choice>& choices) {
  Octaves(problem, choices).run();
}

}  // namespace combwright::arrange
