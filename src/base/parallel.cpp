// SPDX-License-Identifier: Apache-2.0
#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace combwright {

void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t)>& work) {
  if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
  threads = static_cast<unsigned>(std::min<std::size_t>(threads, count));
  std::atomic<std::size_t> next{0};
  std::mutex guard;
  std::exception_ptr error;
  std::size_t error_index = count;
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(guard);
        if (i < error_index) {
          error = std::current_exception();
          error_index = i;
        }
        next = count;
      }
    }
  };
  std::vector<std::thread> others;
  others.reserve(threads);
  try {
    for (unsigned i = 1; i < threads; ++i) others.emplace_back(run);
  } catch (const std::system_error&) {
    // No more threads to be had: those that run, and this one, do the work.
  }
  run();
  for (auto& thread : others) thread.join();
  if (error) std::rethrow_exception(error);
}

}  // namespace combwright
