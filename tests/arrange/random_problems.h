// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <random>

#include "arrange/problem.h"

namespace combwright::arrange {

// Small random problems, dense enough that every rule binds.
class RandomProblems {
 public:
  explicit RandomProblems(unsigned seed) : random_(seed) {}

  Problem next(int notes, bool neighbours, int most_plucks) {
    Problem p;
    p.earliest_s = 0.5;
    p.latest_s = 10.0;
    p.most_plucks = most_plucks;
    p.pluck_window_s = 0.08;
    for (const int midi : {60, 60, 62, 72, 74}) p.teeth.push_back({midi, between(0.12, 0.5)});
    if (neighbours)
      for (std::size_t k = 0; k + 1 < p.teeth.size(); ++k)
        p.neighbours.push_back({.shift_s = between(-0.02, 0.0), .reach_s = between(0.02, 0.1)});
    double time = 0.5;
    for (int i = 0; i < notes; ++i) {
      const int midi = 60 + pick({0, 0, 2, 12, 14, 24});
      // A written note is one pitch at one onset.
      if (i == 0 || pick({0, 1}) == 0) time += between(0.01, 0.25);
      const bool twin =
          !p.demands.empty() && p.demands.back().onset_s == time && p.demands.back().midi >= midi;
      if (twin) continue;
      p.demands.push_back({.onset_s = time,
                           .midi = midi,
                           .weight = between(0.3, 1.2),
                           .melody = pick({0, 1}) == 1});
    }
    return p;
  }

 private:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  int pick(std::initializer_list<int> of) {
    return *(of.begin() + std::uniform_int_distribution<std::size_t>(0, of.size() - 1)(random_));
  }

  std::mt19937 random_;
};

}  // namespace combwright::arrange
