// SPDX-License-Identifier: Apache-2.0
#include "app/ordered.h"

#include <algorithm>
#include <condition_variable>
#include <map>
#include <mutex>
#include <thread>
#include <utility>

#include "base/parallel.h"

namespace combwright::app {
namespace {

// Texts that wait for their turn. A worker that is far ahead waits until the slowest text, which
// is always in work, has been taken.
class Queue {
 public:
  Queue(std::size_t room, const std::function<void(const std::string&)>& take)
      : room_(room), take_(take) {}

  void wait_for_room(std::size_t index) {
    std::unique_lock lock(guard_);
    moved_.wait(lock, [&] { return stopped_ || index < next_ + room_; });
  }

  void put(std::size_t index, std::string text) {
    const std::lock_guard lock(guard_);
    waiting_.emplace(index, std::move(text));
    for (auto first = waiting_.begin(); first != waiting_.end() && first->first == next_;
         first = waiting_.begin()) {
      if (!stopped_) take_(first->second);
      waiting_.erase(first);
      ++next_;
    }
    moved_.notify_all();
  }

  void stop() {
    const std::lock_guard lock(guard_);
    stopped_ = true;
    moved_.notify_all();
  }

 private:
  std::size_t room_;
  const std::function<void(const std::string&)>& take_;
  std::mutex guard_;
  std::condition_variable moved_;
  std::map<std::size_t, std::string> waiting_;
  std::size_t next_ = 0;
  bool stopped_ = false;
};

}  // namespace

void in_order(std::size_t count, const std::function<std::string(std::size_t)>& work,
              const std::function<void(const std::string&)>& take) {
  constexpr std::size_t texts_a_core = 4;
  Queue queue(texts_a_core * std::max(1U, std::thread::hardware_concurrency()), take);
  parallel_for(count, 0, [&](std::size_t i) {
    try {
      queue.wait_for_room(i);
      queue.put(i, work(i));
    } catch (...) {
      queue.stop();
      throw;
    }
  });
}

}  // namespace combwright::app
