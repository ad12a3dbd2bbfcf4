// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "tuner/simulated_tooth.h"

namespace combwright::tuner::simulation {
namespace {

std::vector<int> cuts(const std::vector<Outcome>& outcomes) {
  std::vector<int> result;
  for (const Outcome& outcome : outcomes) result.push_back(outcome.cuts());
  std::sort(result.begin(), result.end());
  return result;
}

// Steel 3 %, weights 6 %, cuts 8 %, pitch 0.15 cent, all one standard deviation; ten thousand teeth
// are in benchmarks/tuner.
TEST(Simulation, ThreeHundredTeethGetInTuneInFewCuts) {
  Workshop shop = bramble();
  const Spreads spreads;
  tell(shop, spreads);
  std::vector<Outcome> advised;
  std::vector<Outcome> halved;
  std::size_t leaded = 0;
  while (shop.designs[0].teeth[leaded].leaded()) ++leaded;
  for (std::size_t i = 0; i < 300; ++i) {
    const ToothOf of{shop.box, shop.shop, shop.designs, 0, i % leaded};
    const Bench bench(shop, 0, of.tooth, spreads, 100 + i);
    advised.push_back(by_advice(shop, of, bench));
    halved.push_back(by_halving(shop, of, bench));
    EXPECT_TRUE(advised.back().ended) << "tooth " << i;
    EXPECT_LE(std::abs(advised.back().end_cents), 2.0) << "tooth " << i;
  }
  const std::vector<int> sorted = cuts(advised);
  EXPECT_LE(sorted[150], 3);
  EXPECT_LE(sorted[297], 5);
  EXPECT_LE(sorted[150], cuts(halved)[150]);
  const auto sharp = [](const std::vector<Outcome>& outcomes) {
    return std::count_if(outcomes.begin(), outcomes.end(),
                         [](const Outcome& outcome) { return outcome.overshot; });
  };
  // With a chance of 0.5 % each, more than 5 of 300 come up once in 200 times.
  EXPECT_LE(sharp(advised), 5);
  EXPECT_GT(sharp(halved), sharp(advised));
}

}  // namespace
}  // namespace combwright::tuner::simulation
