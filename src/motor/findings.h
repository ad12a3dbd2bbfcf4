// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "motor/motor.h"

namespace combwright::motor {

// What to look at in a prediction: stall, plays, tempo, setting, spring, wheels.
Findings motor_findings(const box::Box& box, const Prediction& prediction);

}  // namespace combwright::motor
