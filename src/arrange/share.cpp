// SPDX-License-Identifier: Apache-2.0
#include "arrange/share.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <map>
#include <optional>

#include "arrange/limits.h"
#include "arrange/rules.h"

namespace combwright::arrange {
namespace {

struct Duplicate {
  int tooth;
  double interval_s;
  double last_s = -std::numeric_limits<double>::infinity();
};

// The tooth that has rested longest among those that may be plucked at this time.
std::optional<std::size_t> most_rested(const std::vector<Duplicate>& duplicates, double time_s) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < duplicates.size(); ++i) {
    const Duplicate& d = duplicates[i];
    if (time_s - d.last_s < d.interval_s - same_time_s) continue;
    if (!best || d.last_s < duplicates[*best].last_s) best = i;
  }
  return best;
}

}  // namespace

void share_duplicates(const Problem& problem, std::vector<Choice>& choices) {
  std::map<int, std::vector<Duplicate>> by_note;
  for (std::size_t k = 0; k < problem.teeth.size(); ++k)
    by_note[problem.teeth[k].midi].push_back({static_cast<int>(k), problem.teeth[k].interval_s});
  std::map<int, std::vector<std::size_t>> plucks;
  for (std::size_t i = 0; i < choices.size(); ++i)
    if (choices[i].tooth >= 0)
      plucks[problem.teeth[static_cast<std::size_t>(choices[i].tooth)].midi].push_back(i);

  for (auto& [midi, order] : plucks) {
    std::vector<Duplicate>& duplicates = by_note[midi];
    if (duplicates.size() < 2) continue;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return choices[a].time_s < choices[b].time_s;
    });
    std::vector<Choice> shared = choices;
    bool possible = true;
    for (const std::size_t i : order) {
      const auto next = most_rested(duplicates, choices[i].time_s);
      possible = possible && next.has_value();
      if (!possible) break;
      shared[i].tooth = duplicates[*next].tooth;
      duplicates[*next].last_s = choices[i].time_s;
    }
    if (possible && (problem.neighbours.empty() || broken_capacities(problem, shared).empty()))
      choices = std::move(shared);
  }
}

}  // namespace combwright::arrange
