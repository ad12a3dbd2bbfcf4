// SPDX-License-Identifier: Apache-2.0
#include "app/hear_job.h"

#include <utility>

#include <fmt/format.h>

#include "sound/left_out.h"

namespace combwright::app {

std::string heard_title(const TuneInputs& inputs) {
  return fmt::format("{}, played by {}", inputs.tune.tune.title, inputs.box.box.name);
}

Heard heard_at(const TuneJob& job, std::optional<motor::WindState> wind, const Watch& watch) {
  const disc::Plan& plan = job.disc.plan;
  disc::Disc disc = plan.disc;
  if (wind) disc = motor::at_wind(job.motor.value(), std::move(disc), *wind);
  sound::Preview sound = sound::preview(plan.box, job.combs.designs, disc, {}, watch);
  return {std::move(disc), std::move(sound)};
}

sound::Preview left_out(const TuneJob& job, const Watch& watch) {
  return sound::left_out(job.disc.plan.box, job.combs.designs, job.arrangement, {}, watch);
}

}  // namespace combwright::app
