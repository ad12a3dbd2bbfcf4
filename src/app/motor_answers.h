// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "app/json.h"
#include "base/finding.h"
#include "box/box.h"
#include "motor/motor.h"
#include "motor/size.h"

// The answers of `motor`.
namespace combwright::app {

// `tune` is empty if the turn is the hardest one instead.
Json to_json(const box::Box& box, const std::string& tune, const motor::Prediction& prediction,
             const Findings& findings);

std::string motor_text(const box::Box& box, const std::string& tune,
                       const motor::Prediction& prediction, const Findings& findings);

// Of `motor --size`.
Json to_json(const box::Box& box, const std::string& tune, const motor::Sizing& sizing,
             const Findings& findings);

std::string sizing_text(const box::Box& box, const std::string& tune, const motor::Sizing& sizing,
                        const Findings& findings);

}  // namespace combwright::app
