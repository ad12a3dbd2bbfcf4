// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "box/box.h"
#include "box/shop.h"
#include "steel/comb.h"

namespace combwright::steel {

// What all teeth of one comb share.
struct Bench {
  box::Comb comb;
  box::Lead lead;
  Metal steel;
  Metal weight;
  double endurance_pa = 0.0;
  double strength_pa = 0.0;
  double tooth_overlap_m = 0.0;
  std::vector<double> bar_m;  // lowest first
  std::vector<double> plate_m;
};

Bench bench(const box::Box& box, std::size_t comb, const box::Shop& shop);

// What is asked of one tooth.
struct Order {
  int track = 0;
  int midi = 0;
  double target_hz = 0.0;
  double lift_m = 0.0;
  double share = 0.0;  // see CombCurves
};

std::vector<Order> orders(const box::Box& box, std::size_t comb, const std::vector<double>& lift_m);

}  // namespace combwright::steel
