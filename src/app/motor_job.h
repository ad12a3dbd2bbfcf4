// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "app/disc_job.h"
#include "app/inputs.h"
#include "base/finding.h"
#include "base/watch.h"
#include "box/shop.h"
#include "motor/motor.h"

namespace combwright::app {

// A motor, and what it has to play.
struct MotorJob {
  box::Box box;
  box::Shop shop;
  std::string tune;  // its title; empty for the hardest turn
  motor::Prediction prediction;
  Findings findings;  // of all stages before the motor; with a tune, of the motor too
};

// A tune, and the hardest turn that the arranger may write. Throws as tune_job does.
MotorJob motor_job(const TuneInputs& inputs, const Watch& watch = {},
                   const CombsOf& combs_of = designed);
MotorJob motor_job(const BoxInput& input, const box::Shop& shop, const Watch& watch = {},
                   const CombsOf& combs_of = designed);

}  // namespace combwright::app
