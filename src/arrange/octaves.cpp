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

std::vector<HeardNote> heard(const Problem& problem, const std::vector<Choice>& choices) {
  std::vector<HeardNote> notes;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Demand& demand = problem.demands[i];
    const int tooth = choices[i].tooth;
    notes.push_back({demand.onset_s, demand.melody,
                     tooth < 0 ? -1 : problem.teeth[static_cast<std::size_t>(tooth)].midi});
  }
  return notes;
}

class Octaves {
 public:
  Octaves(const Problem& problem, std::vector<Choice>& choices)
      : problem_(problem),
        choices_(choices),
        melody_(melody_heard(heard(problem, choices))),
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
    const double time_s = choices_[i].time_s;
    auto& from = plucks_s_[old];
    from.erase(std::find(from.begin(), from.end(), time_s));
    std::size_t best = old;
    for (std::size_t k = 0; k < problem_.teeth.size(); ++k) {
      if (is_octave(problem_.demands[i], problem_.teeth[k].midi) && rank(i, k) < rank(i, best) &&
          is_free(k, time_s))
        best = k;
    }
    plucks_s_[best].push_back(time_s);
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

std::vector<int> melody_heard(const std::vector<HeardNote>& notes) {
  std::vector<int> melody(notes.size(), no_melody);
  int last = no_melody;
  double last_s = 0.0;
  for (std::size_t begin = 0; begin < notes.size();) {
    std::size_t end = begin;
    int lowest = no_melody;
    for (; end < notes.size() && notes[end].onset_s - notes[begin].onset_s <= same_onset_s; ++end)
      if (notes[end].melody && notes[end].midi >= 0) lowest = std::min(lowest, notes[end].midi);
    if (lowest != no_melody) {
      last = lowest;
      last_s = notes[begin].onset_s;
    }
    const bool rings = notes[begin].onset_s - last_s <= melody_rings_s;
    std::fill(melody.begin() + static_cast<std::ptrdiff_t>(begin),
              melody.begin() + static_cast<std::ptrdiff_t>(end), rings ? last : no_melody);
    begin = end;
  }
  return melody;
}

void prefer_near_octaves(const Problem& problem, std::vector<Choice>& choices) {
  Octaves(problem, choices).run();
}

}  // namespace combwright::arrange
