// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "motor/motor.h"

namespace combwright::motor {

// Wheels that run against the barrel or an arbor.
Findings room_for_wheels(const box::Box& box);

// What to look at in a prediction: stall, plays, tempo, setting, spring, wheels.
Findings motor_findings(const box::Box& box, const Prediction& prediction);

}  // namespace combwright::motor
