// SPDX-License-Identifier: Apache-2.0
#include "app/kept_combs.h"

#include <atomic>
#include <thread>
#include <vector>

#include <gtest/gtest.h>

#include "app/inputs.h"

namespace combwright::app {
namespace {

// Its teeth keep to given lines, which takes no search; its steel is of so many gigapascals.
box::Box small_box(double modulus_gpa = 205.0) {
  box::Box box = load_box(COMBWRIGHT_SOURCE_DIR "/examples/bramble.toml").box;
  box.combs.front().lines = {0.0, 0.031351, 0.029729, 0.02877, 0.703125, 1.0};
  box.steel.modulus_pa = modulus_gpa * 1e9;
  return box;
}

// How often a comb was designed while it watched.
struct Counted {
  std::atomic<int> designed = 0;
  Watch watch{.told = [this](const std::string&) { ++designed; }};
};

TEST(KeptCombs, DesignsABoxOnce) {
  KeptCombs kept;
  Counted counted;
  const auto first = kept.of(small_box(), {}, counted.watch);
  const auto second = kept.of(small_box(), {}, counted.watch);
  EXPECT_EQ(counted.designed, 1);
  ASSERT_EQ(first.size(), second.size());
  EXPECT_EQ(first[0].teeth[0].tip_stiffness_n_m, second[0].teeth[0].tip_stiffness_n_m);
}

TEST(KeptCombs, DesignsAnotherBoxAnew) {
  KeptCombs kept;
  Counted counted;
  const auto soft = kept.of(small_box(203.0), {}, counted.watch);
  const auto stiff = kept.of(small_box(207.0), {}, counted.watch);
  EXPECT_EQ(counted.designed, 2);
  EXPECT_NE(soft[0].teeth[0].tip_stiffness_n_m, stiff[0].teeth[0].tip_stiffness_n_m);
}

TEST(KeptCombs, ThoseWhoAskTogetherWaitForOne) {
  KeptCombs kept;
  Counted counted;
  std::vector<std::thread> asking;
  for (int i = 0; i < 4; ++i) asking.emplace_back([&] { kept.of(small_box(), {}, counted.watch); });
  for (std::thread& each : asking) each.join();
  EXPECT_EQ(counted.designed, 1);
}

TEST(KeptCombs, ADesignThatWasStoppedIsNotKept) {
  KeptCombs kept;
  const Watch gone{.stopped = [] { return true; }};
  EXPECT_THROW(kept.of(small_box(), {}, gone), Cancelled);
  Counted counted;
  EXPECT_FALSE(kept.of(small_box(), {}, counted.watch).empty());
  EXPECT_EQ(counted.designed, 1);
}

TEST(KeptCombs, KeepsTheLastBoxesOnly) {
  KeptCombs kept;
  Counted counted;
  for (const double modulus : {201.0, 202.0, 203.0, 204.0, 205.0})
    kept.of(small_box(modulus), {}, counted.watch);
  kept.of(small_box(205.0), {}, counted.watch);
  EXPECT_EQ(counted.designed, 5);
  kept.of(small_box(201.0), {}, counted.watch);
  EXPECT_EQ(counted.designed, 6);
}

}  // namespace
}  // namespace combwright::app
