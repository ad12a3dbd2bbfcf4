// SPDX-License-Identifier: Apache-2.0
#include "app/ordered.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include <gtest/gtest.h>

namespace combwright::app {
namespace {

TEST(InOrder, TextsAreTakenInTheOrderOfTheirNumbers) {
  std::vector<std::string> taken;
  in_order(
      200,
      [](std::size_t i) {
        if (i % 7 == 0) std::this_thread::sleep_for(std::chrono::milliseconds(1));
        return std::to_string(i);
      },
      [&](const std::string& text) { taken.push_back(text); });
  ASSERT_EQ(taken.size(), 200U);
  for (std::size_t i = 0; i < taken.size(); ++i) EXPECT_EQ(taken[i], std::to_string(i));
}

TEST(InOrder, NoWorkerRunsFarAheadOfASlowOne) {
  std::atomic<std::size_t> taken{0};
  std::atomic<std::size_t> furthest{0};
  in_order(
      100,
      [&](std::size_t i) {
        std::size_t known = furthest;
        const std::size_t ahead = i - std::min<std::size_t>(i, taken);
        while (known < ahead && !furthest.compare_exchange_weak(known, ahead)) {
        }
        if (i == 0) std::this_thread::sleep_for(std::chrono::milliseconds(50));
        return std::string();
      },
      [&](const std::string&) { ++taken; });
  EXPECT_LE(furthest, 4 * std::max(1U, std::thread::hardware_concurrency()));
}

TEST(InOrder, AnExceptionOfTheWorkComesOut) {
  EXPECT_THROW(in_order(
                   50,
                   [](std::size_t i) {
                     if (i == 20) throw std::runtime_error("no");
                     return std::string();
                   },
                   [](const std::string&) {}),
               std::runtime_error);
}

TEST(InOrder, AnExceptionOfTheTakerComesOut) {
  EXPECT_THROW(in_order(
                   50, [](std::size_t) { return std::string(); },
                   [](const std::string&) { throw std::runtime_error("full"); }),
               std::runtime_error);
}

}  // namespace
}  // namespace combwright::app
