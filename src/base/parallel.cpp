// SPDX-License-Identifier: Apache-2.0
#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace combwright {

void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t)>& work) {
  if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
  threads = static_cast<unsigned>(std::min<std::size_t>(threads, count));
  std::atomic<std::size_t> next{0};
  std::exception_ptr first_error;
  std::mutex guard;
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(guard);
        if (!first_error) first_error = std::current_exception();
        next = count;
      }
    }
  };
  std::vector<std::thread> others;
  for (unsigned i = 1; i < threads; ++i) others.emplace_back(run);
  run();
  for (auto& thread : others) thread.join();
  if (first_error) std::rethrow_exception(first_error);
}

}  // namespace combwright
