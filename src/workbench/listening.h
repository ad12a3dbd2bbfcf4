// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <list>
#include <memory>
#include <mutex>
#include <string>

#include "ear/listener.h"
#include "workbench/message.h"

// Live sound that comes in numbered parts, each in a request of its own. Nothing here has to
// outlive the program: a pluck that is told was filed before.
namespace combwright::workbench {

struct Listening {
  explicit Listening(double rate) : rate_hz(rate), listener(rate) {}

  std::mutex mutex;  // for all that follows
  double rate_hz;
  ear::Listener listener;
  std::int64_t next_part = 0;
  Reply last;  // to the part before, for a page that did not get it
  std::string tooth;
  double near_hz = 0.0;  // of that tooth
};

// The last few that go on, by the name that the page gave them. Called on many threads at once.
class Listenings {
 public:
  // The one of that name; a new one for part 0 of a name that is not known, nothing for another.
  std::shared_ptr<Listening> at(const std::string& name, std::int64_t part, double rate_hz);

  void drop(const std::string& name);

 private:
  struct Named {
    std::string name;
    std::shared_ptr<Listening> listening;
  };

  std::mutex mutex_;
  std::list<Named> all_;  // the last used first
};

}  // namespace combwright::workbench
