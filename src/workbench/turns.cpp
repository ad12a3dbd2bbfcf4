// SPDX-License-Identifier: Apache-2.0
#include "workbench/turns.h"

#include <algorithm>

namespace combwright::workbench {

bool Turns::take_at_once() {
  const std::lock_guard lock(guard_);
  if (free_ == 0 || !waiting_.empty()) return false;
  --free_;
  return true;
}

bool Turns::take(std::chrono::milliseconds patience, const std::function<bool()>& wanted) {
  using Clock = std::chrono::steady_clock;
  constexpr std::chrono::milliseconds look(100);
  const auto end = Clock::now() + patience;
  std::unique_lock lock(guard_);
  const std::uint64_t ticket = next_ticket_++;
  waiting_.push_back(ticket);
  bool mine = false;
  bool waits = true;
  while (waits) {
    mine = changed_.wait_until(lock, std::min(end, Clock::now() + look),
                               [&] { return comes(ticket); });
    if (mine) break;
    // Asked without the lock: it may take its time.
    lock.unlock();
    waits = Clock::now() < end && wanted();
    lock.lock();
  }
  waiting_.erase(std::find(waiting_.begin(), waiting_.end(), ticket));
  if (mine) --free_;
  changed_.notify_all();  // another is the first of those who wait
  return mine;
}

void Turns::give_back() {
  const std::lock_guard lock(guard_);
  ++free_;
  changed_.notify_all();
}

}  // namespace combwright::workbench
