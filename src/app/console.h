// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <mutex>
#include <string>
#include <string_view>
#include <thread>

#include "base/finding.h"

namespace combwright::app {

enum Status : int { done = 0, fault_stands = 1, wrong_request = 2, machine_refused = 3 };

// Writes to standard output at once. Throws Error (machine) with the system's reason if it can't;
// a reader that has gone away is not an error.
void print(std::string_view text);

// done, or fault_stands if any finding is a fault.
Status status_of(const Findings& findings);

// Says on standard error what is being done, but only on a terminal and only while it has lasted
// longer than half a second; the line is wiped at the end.
class Progress {
 public:
  explicit Progress(std::string doing);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress();

  void set(std::string doing);

 private:
  void show();

  std::mutex guard_;
  std::condition_variable changed_;
  std::string doing_;
  bool ended_ = false;
  std::thread shower_;
};

}  // namespace combwright::app
