// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <mutex>
#include <string>
#include <string_view>
#include <thread>

#include "base/finding.h"
#include "base/watch.h"

namespace combwright::app {

enum Status : int { done = 0, fault_stands = 1, wrong_request = 2, machine_refused = 3 };

// Writes to standard output at once. Throws Error (machine) with the system's reason if it can't;
// a reader that has gone away is not an error.
void print(std::string_view text);

// Says something on standard error that is no answer, such as what did not come about.
void note(std::string_view text);

// done, or fault_stands if any finding is a fault.
Status status_of(const Findings& findings);

// Says on standard error what is being done, but only on a terminal and only while it has lasted
// longer than half a second; the line is wiped at the end.
class Progress {
 public:
  explicit Progress(std::string doing = {});  // nothing is shown while there are no words
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress();

  void set(std::string doing);

  // Says here what is told there, while this lasts.
  Watch watch();

 private:
  void show();

  std::mutex guard_;
  std::condition_variable changed_;
  std::string doing_;
  bool ended_ = false;
  std::thread shower_;
};

}  // namespace combwright::app
