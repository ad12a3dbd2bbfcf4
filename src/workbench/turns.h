// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <mutex>

namespace combwright::workbench {

// So many at once; the others wait for their turn, which comes in the order of their coming.
class Turns {
 public:
  explicit Turns(int free) : free_(free) {}

  // Whether a turn was free for the taking.
  bool take_at_once();

  // False if none came in that time, or was not wanted any more, which is asked now and then.
  bool take(std::chrono::milliseconds patience, const std::function<bool()>& wanted);

  void give_back();

 private:
  bool comes(std::uint64_t ticket) const { return free_ > 0 && waiting_.front() == ticket; }

  std::mutex guard_;
  std::condition_variable changed_;
  int free_;
  std::uint64_t next_ticket_ = 0;
  std::deque<std::uint64_t> waiting_;
};

// A turn that was taken, given back at the end.
class Turn {
 public:
  explicit Turn(Turns& turns) : turns_(turns) {}
  Turn(const Turn&) = delete;
  Turn& operator=(const Turn&) = delete;
  ~Turn() { turns_.give_back(); }

 private:
  Turns& turns_;
};

}  // namespace combwright::workbench
