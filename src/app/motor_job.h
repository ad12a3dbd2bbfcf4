// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "app/disc_job.h"
#include "app/inputs.h"
#include "base/finding.h"
#include "box/shop.h"
#include "disc/disc.h"
#include "steel/comb.h"

namespace combwright::app {

// What a motor has to play.
struct MotorJob {
  box::Box box;
  box::Shop shop;
  std::string tune;  // its title; empty for the hardest turn
  disc::Disc disc;
  std::vector<steel::CombDesign> combs;
  Findings findings;  // of all but the motor
};

// A tune, and the hardest turn that the arranger may write. Throws Error as tune_job does.
MotorJob motor_job(const TuneInputs& inputs);
MotorJob motor_job(const BoxInput& input, const box::Shop& shop);

}  // namespace combwright::app
