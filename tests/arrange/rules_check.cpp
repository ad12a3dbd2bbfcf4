// SPDX-License-Identifier: Apache-2.0
#include "arrange/rules_check.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

namespace combwright::arrange {
namespace {

constexpr double slack_s = 1e-9;

const Tooth& tooth_of(const Problem& problem, const Choice& choice) {
  return problem.teeth[static_cast<std::size_t>(choice.tooth)];
}

std::string broken_alone(const Problem& problem, const Demand& demand, const Choice& choice) {
  const int away = std::abs(tooth_of(problem, choice).midi - demand.midi);
  const double shift = std::abs(choice.time_s - demand.onset_s);
  if (choice.time_s < problem.earliest_s - slack_s || choice.time_s > problem.latest_s + slack_s)
    return "pluck outside the turn";
  switch (choice.fate) {
    case Fate::kept:
      return away == 0 && shift == 0.0 ? "" : "kept, but not as written";
    case Fate::moved:
      return away == 0 && shift <= 0.030 + slack_s ? "" : "moved too far";
    case Fate::octave:
      return (away == 12 || away == 24) && shift == 0.0 ? "" : "not an octave at its onset";
    case Fate::dropped:
      return "dropped, yet plucked";
  }
  return "";
}

std::string broken_pair(const Problem& problem, const Choice& a, const Choice& b) {
  if (a.tooth == b.tooth && std::abs(a.time_s - b.time_s) < tooth_of(problem, a).interval_s - 2e-9)
    return fmt::format("tooth {} plucked at {} and {}", a.tooth, a.time_s, b.time_s);
  if (problem.neighbours.empty() || std::abs(a.tooth - b.tooth) != 1) return "";
  const Choice& lower = a.tooth < b.tooth ? a : b;
  const Choice& upper = a.tooth < b.tooth ? b : a;
  const NeighbourLimit& limit = problem.neighbours[static_cast<std::size_t>(lower.tooth)];
  if (std::abs(upper.time_s - lower.time_s - limit.shift_s) < limit.reach_s - 2e-9)
    return fmt::format("teeth {} and {} too close", lower.tooth, upper.tooth);
  return "";
}

class Trying {
 public:
  Trying(const Problem& problem, double grid_s)
      : problem_(problem), grid_s_(grid_s), choices_(problem.demands.size()) {}

  double best() {
    try_note(0);
    return best_;
  }

 private:
  void try_note(std::size_t i) {
    best_ = std::max(best_, earned_by_rules(problem_, choices_));
    if (i == choices_.size()) return;
    choices_[i] = Choice{};
    try_note(i + 1);
    const Demand& demand = problem_.demands[i];
    for (std::size_t k = 0; k < problem_.teeth.size(); ++k) {
      const int away = std::abs(problem_.teeth[k].midi - demand.midi);
      const auto tooth = static_cast<int>(k);
      if (away == 0) {
        attempt(i, {.fate = Fate::kept, .tooth = tooth, .time_s = demand.onset_s});
        for (double shift = -0.030; shift <= 0.0301; shift += grid_s_)
          if (std::abs(shift) > 1e-6)
            attempt(i, {.fate = Fate::moved, .tooth = tooth, .time_s = demand.onset_s + shift});
      } else if (away == 12 || away == 24) {
        attempt(i, {.fate = Fate::octave, .tooth = tooth, .time_s = demand.onset_s});
      }
    }
    choices_[i] = Choice{};
  }

  void attempt(std::size_t i, const Choice& choice) {
    choices_[i] = choice;
    if (broken_rule(problem_, choices_).empty()) try_note(i + 1);
    choices_[i] = Choice{};
  }

  const Problem& problem_;
  double grid_s_;
  std::vector<Choice> choices_;
  double best_ = 0.0;
};

}  // namespace

std::string broken_rule(const Problem& problem, const std::vector<Choice>& choices) {
  std::vector<double> times;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (choices[i].tooth < 0) continue;
    times.push_back(choices[i].time_s);
    if (auto broken = broken_alone(problem, problem.demands[i], choices[i]); !broken.empty())
      return broken;
    for (std::size_t j = 0; j < i; ++j) {
      if (choices[j].tooth < 0) continue;
      if (auto broken = broken_pair(problem, choices[j], choices[i]); !broken.empty())
        return broken;
    }
  }
  std::sort(times.begin(), times.end());
  for (std::size_t i = static_cast<std::size_t>(problem.most_plucks); i < times.size(); ++i)
    if (times[i] - times[i - static_cast<std::size_t>(problem.most_plucks)] <=
        problem.pluck_window_s)
      return fmt::format("more than {} plucks in the window", problem.most_plucks);
  return "";
}

double earned_by_rules(const Problem& problem, const std::vector<Choice>& choices) {
  double sum = 0.0;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const Demand& demand = problem.demands[i];
    switch (choices[i].fate) {
      case Fate::kept:
        sum += demand.weight;
        break;
      case Fate::moved:
        sum += 0.9 * demand.weight;
        break;
      case Fate::octave:
        sum += (demand.melody ? 0.3 : 0.6) * demand.weight;
        break;
      case Fate::dropped:
        break;
    }
  }
  return sum;
}

double best_by_trying_all(const Problem& problem, double grid_s) {
  return Trying(problem, grid_s).best();
}

}  // namespace combwright::arrange
