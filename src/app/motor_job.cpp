// SPDX-License-Identifier: Apache-2.0
#include "app/motor_job.h"

#include <utility>
#include <vector>

#include "action/survey.h"
#include "app/comb_job.h"

namespace combwright::app {

MotorJob motor_job(const TuneInputs& inputs, const Watch& watch, const CombsOf& combs_of) {
  TuneJob job = tune_job(inputs, {}, Combs::designed, watch, combs_of);
  return {inputs.box.box, inputs.shop, inputs.tune.tune.title, std::move(*job.motor),
          job.disc.plan.disc.findings};
}

MotorJob motor_job(const BoxInput& input, const box::Shop& shop, const Watch& watch,
                   const CombsOf& combs_of) {
  const std::vector<steel::CombDesign> combs = combs_of(input.box, shop, watch);
  watch.say("running the motor");
  const Findings found = to_look_at(combs);
  const action::Survey survey =
      action::survey(input.box, steel::tip_stiffness_n_m(combs), input.box.motor.turn_time_s);
  return {input.box, shop, "", motor::predict(input.box, combs, motor::hardest_turn(input.box)),
          merged({&input.findings, &found, &survey.findings})};
}

}  // namespace combwright::app
