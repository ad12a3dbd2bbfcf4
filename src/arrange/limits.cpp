// SPDX-License-Identifier: Apache-2.0
#include "arrange/limits.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

struct ToothStroke {
  double time_s;
  int tooth;
  std::size_t demand;
};

std::vector<ToothStroke> strokes_of(const std::vector<Choice>& choices) {
  std::vector<ToothStroke> strokes;
  for (std::size_t i = 0; i < choices.size(); ++i)
    if (choices[i].tooth >= 0) strokes.push_back({choices[i].time_s, choices[i].tooth, i});
  std::sort(strokes.begin(), strokes.end(), [](const ToothStroke& a, const ToothStroke& b) {
    return a.time_s != b.time_s ? a.time_s < b.time_s : a.tooth < b.tooth;
  });
  return strokes;
}

bool in_one_window(const Problem& problem, double first_s, double last_s) {
  return last_s - first_s <= problem.pluck_window_s + same_time_s;
}

// Calls visit(a, b) for every pair of strokes on neighbouring teeth that leave too little sheet; a
// lies on tooth k, b on k + 1.
template <typename Visit>
void for_each_close_pair(const Problem& problem, const std::vector<ToothStroke>& strokes,
                         Visit visit) {
  if (problem.neighbours.empty()) return;
  std::vector<std::vector<const ToothStroke*>> by_tooth(problem.teeth.size());
  for (const ToothStroke& s : strokes) by_tooth[static_cast<std::size_t>(s.tooth)].push_back(&s);
  for (std::size_t k = 0; k + 1 < by_tooth.size(); ++k) {
    const NeighbourLimit& limit = problem.neighbours[k];
    std::size_t first = 0;
    for (const ToothStroke* a : by_tooth[k]) {
      const double from = a->time_s + limit.shift_s - limit.reach_s;
      const double until = a->time_s + limit.shift_s + limit.reach_s;
      const auto& next = by_tooth[k + 1];
      while (first < next.size() && next[first]->time_s <= from) ++first;
      for (std::size_t j = first; j < next.size() && next[j]->time_s < until; ++j)
        visit(*a, *next[j]);
    }
  }
}

}  // namespace

bool Capacity::concerns(int pluck_tooth) const {
  return tooth == all_teeth || pluck_tooth == tooth || pluck_tooth == tooth + 1;
}

double Capacity::begin_on(int pluck_tooth) const {
  return tooth != all_teeth && pluck_tooth == tooth + 1 ? begin_s + shift_s : begin_s;
}

double Capacity::end_on(int pluck_tooth) const {
  return begin_on(pluck_tooth) + (end_s - begin_s);
}

std::vector<Capacity> broken_capacities(const Problem& problem,
                                        const std::vector<Choice>& choices) {
  const std::vector<ToothStroke> strokes = strokes_of(choices);
  std::vector<Capacity> broken;
  const auto most = static_cast<std::size_t>(problem.most_plucks);
  const double window = problem.pluck_window_s;
  for (std::size_t i = 0; i + most < strokes.size(); ++i) {
    const double first = strokes[i].time_s;
    const double last = strokes[i + most].time_s;
    if (!in_one_window(problem, first, last)) continue;
    for (const double begin : {first, 0.5 * (first + last - window), last - window})
      broken.push_back(
          {.begin_s = begin, .end_s = begin + window, .capacity = problem.most_plucks});
    while (i + most + 1 < strokes.size() &&
           in_one_window(problem, first, strokes[i + most + 1].time_s))
      ++i;
  }
  for_each_close_pair(problem, strokes, [&](const ToothStroke& a, const ToothStroke& b) {
    const NeighbourLimit& limit = problem.neighbours[static_cast<std::size_t>(a.tooth)];
    // Any two plucks in a span shorter than the reach are too close, also on one tooth, whose own
    // interval is longer than that.
    const double span =
        std::min({limit.reach_s, problem.teeth[static_cast<std::size_t>(a.tooth)].interval_s,
                  problem.teeth[static_cast<std::size_t>(b.tooth)].interval_s}) -
        4.0 * same_time_s;
    const double begin = 0.5 * (a.time_s + b.time_s - limit.shift_s - span);
    broken.push_back({.tooth = a.tooth,
                      .begin_s = begin,
                      .end_s = begin + span,
                      .shift_s = limit.shift_s,
                      .capacity = 1});
  });
  return broken;
}

void drop_breaches(const Problem& problem, const std::vector<double>& value,
                   std::vector<Choice>& choices) {
  std::vector<ToothStroke> strokes = strokes_of(choices);
  for_each_close_pair(problem, strokes, [&](const ToothStroke& a, const ToothStroke& b) {
    if (choices[a.demand].tooth < 0 || choices[b.demand].tooth < 0) return;
    choices[value[a.demand] < value[b.demand] ? a.demand : b.demand] = Choice{};
  });
  strokes = strokes_of(choices);
  const auto most = static_cast<std::size_t>(problem.most_plucks);
  for (std::size_t i = 0; i + most < strokes.size();) {
    if (!in_one_window(problem, strokes[i].time_s, strokes[i + most].time_s)) {
      ++i;
      continue;
    }
    const auto begin = strokes.begin() + static_cast<std::ptrdiff_t>(i);
    const auto cheapest = std::min_element(begin, begin + static_cast<std::ptrdiff_t>(most) + 1,
                                           [&](const ToothStroke& a, const ToothStroke& b) {
                                             return value[a.demand] < value[b.demand];
                                           });
    choices[cheapest->demand] = Choice{};
    strokes.erase(cheapest);
  }
}

}  // namespace combwright::arrange
