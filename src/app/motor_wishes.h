// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "app/motor_job.h"
#include "motor/size.h"

namespace combwright::app {

inline constexpr int most_plays = 200;  // on one wind, that may be wished

// What is wished of a motor to be chosen, as typed; empty, or 0, where nothing is.
struct WishTexts {
  int plays = 0;
  std::string turn_time;
  std::string tempo_drop;
  std::string barrel;

  bool nothing() const {
    return plays == 0 && turn_time.empty() && tempo_drop.empty() && barrel.empty();
  }
};

// With what the motor of the job does now where nothing is wished. Throws Error naming the option
// and what would be right.
motor::Wishes wishes_of(const WishTexts& texts, const MotorJob& work);

}  // namespace combwright::app
