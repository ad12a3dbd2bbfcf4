// SPDX-License-Identifier: Apache-2.0
#include "base/parallel.h"

#include <atomic>
#include <stdexcept>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace combwright {
namespace {

TEST(ParallelFor, every_index_is_visited_once_by_any_number_of_threads) {
  for (const unsigned threads : {0U, 1U, 2U, 7U, 64U}) {
    std::vector<std::atomic<int>> visits(1000);
    parallel_for(visits.size(), threads, [&](std::size_t i) { ++visits[i]; });
    for (const auto& count : visits) EXPECT_EQ(count, 1) << threads << " threads";
  }
}

TEST(ParallelFor, no_work_is_no_call) {
  parallel_for(0, 4, [](std::size_t) { FAIL(); });
}

TEST(ParallelFor, the_exception_of_the_smallest_index_comes_through) {
  for (const unsigned threads : {1U, 2U, 8U}) {
    for (int round = 0; round < 50; ++round) {
      try {
        parallel_for(100, threads, [](std::size_t i) {
          if (i >= 10 && i % 5 == 0) throw std::runtime_error(std::to_string(i));
        });
        FAIL() << "nothing was thrown";
      } catch (const std::runtime_error& error) {
        EXPECT_STREQ(error.what(), "10");
      }
    }
  }
}

TEST(ParallelFor, no_new_work_begins_after_an_exception) {
  std::atomic<int> calls = 0;
  EXPECT_THROW(parallel_for(1000000, 1,
                            [&](std::size_t) {
                              ++calls;
                              throw std::runtime_error("stop");
                            }),
               std::runtime_error);
  EXPECT_EQ(calls, 1);
}

}  // namespace
}  // namespace combwright
