// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <exception>
#include <functional>
#include <string>

namespace combwright {

// What a checkpoint of long work throws when nobody waits for the answer any more. Nobody's
// mistake: it is not an Error, and only he who stopped the work catches it.
class Cancelled : public std::exception {
 public:
  const char* what() const noexcept override { return "cancelled"; }
};

// Who waits for long work. Both functions may be called on many threads at once, often, and for as
// long as the work goes on; where one is missing nobody is told, and nobody stops the work.
struct Watch {
  std::function<void(const std::string& doing)> told = nullptr;
  std::function<bool()> stopped = nullptr;

  // Tells what is being done: "laying out the disc".
  void say(const std::string& doing) const {
    if (told) told(doing);
  }

  // A checkpoint, where nothing is half done. Throws Cancelled if the work was stopped.
  void check() const {
    if (stopped && stopped()) throw Cancelled();
  }
};

}  // namespace combwright
