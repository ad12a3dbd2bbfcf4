// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "box/box.h"
#include "draw/pack_document.h"
#include "motor/motor.h"

namespace combwright::draw {

// The motor for the bench: what to set and how to wind, torque and tempo as plots, the train's
// pitch circles to scale, where the energy goes, and the cautions for wound springs.
void add_motor(PackDocument& document, const box::Box& box, const motor::Prediction& motor);

// Its facts as name and words.
std::vector<std::pair<std::string, std::string>> motor_facts(const box::Box& box,
                                                             const motor::Prediction& motor);

}  // namespace combwright::draw
